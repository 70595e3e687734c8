// @ts-check
// The torque that a unit was ordered with and its limits for running, as sentences.

/**
 * The torque that a unit was ordered with and its limits for running, in sentences.
 * @param {import("../../log/stands.js").BuiltStanding["derived"]["checked"]} checked its definition in SI
 * @param {import("../form/fields.js").Reading} read
 */
export function limitsInWords({ order, service }, read) {
  const ordered = order ? `Ordered ${read.torque(order.torque_nm)} ± ${read.torque(order.tolerance_nm)}.` : "";
  const [low, high] = [service?.low_nm, service?.high_nm].map((nm) => (nm ? read.torque(nm) : ""));
  const from = low && high ? `from ${low} to ${high}` : low ? `from ${low}` : high ? `up to ${high}` : "";
  return [ordered, from ? `It may run ${from}.` : ""].filter(Boolean).join(" ") || "No torque ordered, no limit given.";
}
