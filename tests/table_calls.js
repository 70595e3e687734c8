// Calls pure functions of webui/tables: `node tests/table_calls.js` reads [[file, function, arguments], ...] as a line
// of JSON each from its input and prints what they return as such a line. An argument {"field": name} stands for a function that takes this field
// of a row, {"fields": [...]} for columns by these, and nothing that is returned stands as null.

const path = require("node:path");
const readline = require("node:readline");
const { pathToFileURL } = require("node:url");

const TABLES = path.resolve(__dirname, "../webui/tables");

const field = (name) => (row) => row[name];

function meant(given) {
  if (typeof given?.field === "string") return field(given.field);
  if (Array.isArray(given?.fields)) return given.fields.map((name) => ({ name, key: field(name) }));
  if (Array.isArray(given?.filters)) return Object.fromEntries(given.filters.map((name) => [name, field(name)]));
  return given === null ? undefined : given;
}

async function main() {
  for await (const line of readline.createInterface({ input: process.stdin })) {
    const answers = [];
    for (const [file, name, given] of JSON.parse(line)) {
      const module = await import(pathToFileURL(path.join(TABLES, file)).href);
      answers.push(module[name](...given.map(meant)) ?? null);
    }
    process.stdout.write(`${JSON.stringify(answers)}\n`);
  }
}

main();
