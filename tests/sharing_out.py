"""How the tests are shared out among processes: what takes long begins first, so that all of them end together.

A file's tests go to one process as a whole, since they share servers. Those on the phone go one by one: each is a story
with a server of its own, some of them half a minute long.
"""

from xdist.scheduler import LoadScopeScheduling

# Files on the phone whose tests share a server.
SHARED = (
    "tests/phone/test_enter.py",
    "tests/phone/test_help.py",
    "tests/phone/test_help_examples.py",
    "tests/phone/test_one_hand.py",
    "tests/phone/test_pictures.py",
    "tests/phone/test_trade.py",
)

# What takes 5 seconds or more, in seconds; what stands here counts by how its name begins. A figure that is no longer
# true costs a few seconds at the end of a run, and nothing else.
A_FEW = 1
SECONDS = {
    "tests/phone/": 4,
    "tests/phone/test_access.py::test_no_screen_has_a_fault": 7,
    "tests/phone/test_access.py::test_no_screen_has_a_fault[empty]": 22,
    "tests/phone/test_access.py::test_no_screen_has_a_fault[in use]": 16,
    "tests/phone/test_access.py::test_no_screen_has_a_fault[wrong]": 16,
    "tests/phone/test_bench.py::test_a_unit_is_rebuilt": 9,
    "tests/phone/test_clocks.py": 7,
    "tests/phone/test_conformance.py": 5,
    "tests/phone/test_conformance.py::test_every": 18,
    "tests/phone/test_crowd.py": 18,
    "tests/phone/test_database_faults.py": 20,
    "tests/phone/test_enter.py": 30,
    "tests/phone/test_faults.py": 6,
    "tests/phone/test_faults.py::test_a_browser": 14,
    "tests/phone/test_five_people.py": 40,
    "tests/phone/test_help.py": 26,
    "tests/phone/test_help_examples.py": 12,
    "tests/phone/test_just_check.py::test_the_first_verdict_in_webkit": 10,
    "tests/phone/test_one_hand.py": 60,
    "tests/phone/test_other_logs.py": 6,
    "tests/phone/test_pairing.py": 7,
    "tests/phone/test_pictures.py": 28,
    "tests/phone/test_refit.py": 5,
    "tests/phone/test_restore.py": 15,
    "tests/phone/test_season.py::test_a_season": 24,
    "tests/phone/test_story.py": 7,
    "tests/phone/test_trade.py": 8,
    "tests/phone/test_two_tabs.py": 6,
    "tests/phone/test_typed_units.py": 6,
    "tests/phone/test_typed_units.py::test_a_decimal": 12,
    "tests/phone/test_unit_file.py": 7,
    "tests/phone/test_webkit": 12,
    "tests/engine/plan/test_front.py": 7,
    "tests/engine/plan/test_outcome.py": 12,
    "tests/engine/test_results.py": 10,
    "tests/engine/test_whole_request_space.py": 11,
    "tests/engine/torque_check/test_comparison.py": 8,
    "tests/engine/torque_check/test_risk.py": 25,
    "tests/engine/unit/test_subsets.py": 11,
    "tests/server/test_adding_faults.py": 20,
    "tests/server/test_client_types.py": 6,
    "tests/server/test_command.py": 8,
    "tests/server/test_database_faults.py": 90,
    "tests/server/test_document.py": 25,
    "tests/server/test_faults.py": 8,
    "tests/server/test_lan_announcing.py": 64,
    "tests/server/test_lan_bad_requests.py": 15,
    "tests/server/test_lan_crowd.py": 12,
    "tests/server/test_lan_dawdlers.py": 30,
    "tests/server/test_lan_guessing.py": 9,
    "tests/server/test_lan_smuggling.py": 8,
    "tests/server/test_lan_strangers.py": 7,
    "tests/server/test_postgres_servers.py": 15,
    "tests/server/test_registers.py": 15,
    "tests/server/test_union.py": 7,
    "tests/test_wheel.py": 16,
}


def share_of(test: str) -> str:
    """What goes to a process as a whole with this test.

    >>> share_of("tests/phone/test_plan.py::test_a"), share_of("tests/server/test_api.py::test_b[one]")
    ('tests/phone/test_plan.py::test_a', 'tests/server/test_api.py')
    """
    file = test.partition("::")[0]
    return test if file.startswith("tests/phone/") and file not in SHARED else file


def seconds(share: str) -> float:
    """About how long a share takes.

    >>> seconds("tests/phone/test_crowd.py::test_a") > seconds("tests/phone/test_plan.py::test_a") > seconds("other.py")
    True
    """
    known = [begin for begin in SECONDS if share.startswith(begin)]
    return SECONDS[max(known, key=len)] if known else A_FEW


class LongestFirst(LoadScopeScheduling):  # type: ignore[misc]
    """Gives each process the longest share that is left."""

    def _split_scope(self, nodeid: str) -> str:
        return share_of(nodeid)
