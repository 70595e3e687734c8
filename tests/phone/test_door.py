"""The one way to the engine: what is asked twice at once is worked out once, and each who asked has its own answer."""

import pytest
from playwright.sync_api import Page

from .conftest import RunningServer

COUNT_WHAT_IS_SENT = """globalThis.sent = [];
const post = Worker.prototype.postMessage;
Worker.prototype.postMessage = function (message, ...more) {
    if (message.text) globalThis.sent.push(message.text);
    return post.call(this, message, ...more);
};"""

ASK = """async (asked) => {
    const { calc } = await slipbook.part("engine/door.js");
    globalThis.sent.length = 0;
    const refused = ({ field, reason }) => ({ field, reason });
    const answered = (request) => calc("in_words", request).then((ok) => ({ ok }), refused);
    const answers = await Promise.all(asked.map(answered));
    const sent = globalThis.sent.filter((text) => text.includes('"in_words"')).length;
    const texts = answers.map((answer) => JSON.stringify(answer));
    if (answers[0].ok) answers[0].ok.changed = true;
    return { sent, texts, untouched: JSON.stringify(answers[1]) === texts[1] };
}"""

TORQUE = {"torque_nm": 100, "write_in": "lbf_in"}


@pytest.mark.in_reach
def test_what_is_asked_twice_at_once_is_worked_out_once(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(COUNT_WHAT_IS_SENT)
    phone.goto(demo.address)
    answer = phone.evaluate(ASK, [TORQUE, TORQUE, {**TORQUE, "torque_nm": 101}])
    assert answer["sent"] == 2
    assert answer["texts"][0] == answer["texts"][1] != answer["texts"][2]
    # Whoever changes an answer does not change that of another.
    assert answer["untouched"]


@pytest.mark.in_reach
def test_a_refusal_reaches_everybody_who_asked(demo: RunningServer, phone: Page) -> None:
    phone.add_init_script(COUNT_WHAT_IS_SENT)
    phone.goto(demo.address)
    answer = phone.evaluate(ASK, [{**TORQUE, "torque_nm": "much"}] * 2)
    assert answer["sent"] == 1
    assert answer["texts"][0] == answer["texts"][1]
    assert "reason" in answer["texts"][0]
