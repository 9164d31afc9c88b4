"""The keeper in a real browser around a small engine: closing, crashes, two windows, full storage, files."""

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from command import server
from playwright.sync_api import BrowserContext, Page

HERE = Path(__file__).resolve().parent
KILLS = 50

Wait = Callable[..., Any]
Open = Callable[..., Page]


@pytest.fixture(scope="module")
def bench_url(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("bench") / "site"
    shutil.copytree(HERE / "keep_bench", folder)
    shutil.copytree(root / "web" / "app" / "keep", folder / "keep")
    running = server.start(folder, 0)
    yield f"http://{server.HOST}:{running.server_address[1]}/"
    running.shutdown()
    running.server_close()


@pytest.fixture
def open_bench(context: BrowserContext, bench_url: str, wait_until: Wait) -> Open:
    """Opens the bare page in a new window of the same profile and waits until a sketch is on it."""

    def open_page(script: str = "", query: str = "") -> Page:
        page = context.new_page()
        if script:
            page.add_init_script(script)
        page.goto(bench_url + query)
        wait_until(page, "window.bench?.ready")
        return page

    return open_page


def numbers(page: Page) -> list[int]:
    return list(page.evaluate("bench.painted.numbers"))


def add(page: Page, *values: int) -> None:
    page.evaluate("async (values) => { for (const value of values) await bench.add(value); }", list(values))


def kept(page: Page) -> None:
    page.evaluate("bench.keeper.flush()")


def test_a_closed_window_comes_back_with_its_sketch_and_its_undo_history(open_bench: Open) -> None:
    page = open_bench()
    add(page, 1, 2, 3)
    page.evaluate("bench.act({do: 'undo'})")
    kept(page)
    page.close()
    page = open_bench()
    assert page.evaluate("bench.recalled.picture.numbers") == [1, 2], "its picture is there before the engine"
    assert numbers(page) == [1, 2]
    assert page.evaluate("bench.act({do: 'redo'})") == [1, 2, 3]
    for left in ([1, 2], [1], []):
        assert page.evaluate("bench.act({do: 'undo'})") == left


def test_a_change_is_in_storage_without_asking_for_it(open_bench: Open, wait_until: Wait) -> None:
    page = open_bench()
    add(page, 7)
    wait_until(page, "bench.store.read(bench.keeper.id).then((it) => it?.journal.entries.length === 1)")
    page.close()
    assert numbers(open_bench()) == [7]


def test_a_change_after_undo_takes_the_place_of_what_was_undone(open_bench: Open) -> None:
    page = open_bench()
    add(page, 1, 2, 3)
    page.evaluate("bench.act({do: 'undo'}).then(() => bench.act({do: 'undo'}))")
    kept(page)
    add(page, 9)
    kept(page)
    page.close()
    page = open_bench()
    assert numbers(page) == [1, 9]
    assert page.evaluate("bench.act({do: 'redo'})") == [1, 9], "there is nothing to redo"
    assert page.evaluate("bench.act({do: 'undo'})") == [1]


def test_a_new_sketch_leaves_the_last_one_as_it_was(open_bench: Open) -> None:
    page = open_bench()
    add(page, 1)
    first = page.evaluate("bench.keeper.id")
    page.evaluate("bench.begin('Second')")
    add(page, 2)
    kept(page)
    heads = page.evaluate("bench.keeper.list()")
    assert [head["title"] for head in heads] == ["Second", "Blank"]
    assert page.evaluate("(id) => bench.keeper.reopen(id)", first)
    assert numbers(page) == [1]
    assert page.evaluate("bench.act({do: 'undo'})") == []


def test_a_sketch_nothing_was_done_to_is_not_listed_once_it_is_left(open_bench: Open) -> None:
    page = open_bench()
    page.evaluate("bench.begin('Looked at')")
    page.evaluate("bench.begin('Used')")
    add(page, 1)
    kept(page)
    assert [head["title"] for head in page.evaluate("bench.keeper.list()")] == ["Used"]


def test_a_forgotten_sketch_is_gone(open_bench: Open) -> None:
    page = open_bench()
    add(page, 1)
    first = page.evaluate("bench.keeper.id")
    page.evaluate("bench.begin('Second')")
    page.evaluate("(id) => bench.keeper.forget(id)", first)
    assert page.evaluate("(id) => bench.store.read(id)", first) is None


def test_an_engine_killed_at_random_loses_no_committed_change(open_bench: Open, seed: int) -> None:
    page = open_bench()
    result = page.evaluate(
        """async ([kills, seed, moments]) => {
          let state = seed;
          const chance = () => (state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff) / 0x7fffffff;
          const expected = [];
          let undone = [];
          let lost = 0;
          for (let kill = 0; kill < kills; kill += 1) {
            const steps = 1 + Math.floor(chance() * 6);
            for (let step = 0; step < steps; step += 1) {
              const what = chance();
              if (what < 0.25 && expected.length) {
                await bench.act({do: "undo"});
                undone.push(expected.pop());
              } else if (what < 0.4 && undone.length) {
                await bench.act({do: "redo"});
                expected.push(undone.pop());
              } else {
                await bench.add(kill * 10 + step);
                expected.push(kill * 10 + step);
                undone = [];
              }
            }
            const number = 100000 + kill;
            const before = bench.recoveries.length;
            bench.engine.diesAt = moments[Math.floor(chance() * moments.length)];
            const answered = await bench.add(number).then(() => true, () => false);
            while (bench.recoveries.length === before) await new Promise((resolve) => setTimeout(resolve, 1));
            if (!(await bench.recoveries.at(-1))) throw new Error("not brought back after kill " + kill);
            if (answered) { expected.push(number); undone = []; } else lost += 1;
            if (JSON.stringify(bench.painted.numbers) !== JSON.stringify(expected)) {
              throw new Error("after kill " + kill + ": " + bench.painted.numbers + " is not " + expected);
            }
          }
          await bench.keeper.flush();
          const steps = bench.painted.steps;
          return {expected, steps, lost, kills: bench.recoveries.length};
        }""",
        [KILLS, seed, ["before the work", "before the reply", "after the reply"]],
    )
    assert result["kills"] == KILLS
    assert 0 < result["lost"] < KILLS, f"the kills of seed {seed} did not fall on both sides of the reply"
    page.close()
    page = open_bench()
    assert numbers(page) == result["expected"]
    for left in range(len(result["expected"]) - 1, -1, -1):
        assert page.evaluate("bench.act({do: 'undo'})") == result["expected"][:left]


def test_a_request_that_was_never_answered_is_not_sent_again(open_bench: Open) -> None:
    page = open_bench()
    add(page, 1)
    page.evaluate("bench.engine.asked.length = 0")
    refused = page.evaluate(
        """async () => {
          const asked = bench.add(2).then(() => false, () => true);
          bench.engine.kill();
          const refused = await asked;
          await bench.recoveries.at(-1);
          return refused;
        }"""
    )
    assert refused
    assert numbers(page) == [1]
    assert page.evaluate("bench.engine.asked") == ["command", "show", "open"]


def test_the_second_crash_on_one_document_stops_and_offers_it_as_a_file(open_bench: Open) -> None:
    page = open_bench("delete window.showSaveFilePicker")
    add(page, 1)
    assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is True
    assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is False
    assert "more than once" in page.evaluate("bench.say('engine')")
    with page.expect_download() as download:
        page.evaluate("bench.press('engine', 'Save as a file')")
    assert download.value.suggested_filename == "blank.steelyard.json"
    assert json.loads(Path(download.value.path()).read_text(encoding="utf-8")) == {"title": "Blank", "numbers": [1]}
    page.evaluate("bench.press('engine', 'Try once more')")
    assert numbers(page) == [1]
    assert page.evaluate("bench.say('engine')") is None


def test_a_change_between_two_crashes_clears_the_sketch_of_suspicion(open_bench: Open) -> None:
    page = open_bench()
    for number in range(4):
        add(page, number)
        assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is True
    assert numbers(page) == [0, 1, 2, 3]


def test_a_sketch_that_kills_the_engine_when_opened_can_be_left_for_a_new_one(open_bench: Open) -> None:
    page = open_bench()
    add(page, 13)
    page.evaluate("bench.engine.poison = '13'")
    assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is False
    bad = page.evaluate("bench.keeper.id")
    page.evaluate("bench.press('engine', 'New sketch')")
    assert numbers(page) == []
    assert page.evaluate("bench.say('engine')") is None
    stored = page.evaluate("(id) => bench.store.read(id)", bad)
    assert json.loads(stored["journal"]["current"])["numbers"] == [13], "the bad sketch is still kept"


def test_a_journal_the_engine_refuses_costs_the_history_not_the_sketch(open_bench: Open) -> None:
    page = open_bench()
    add(page, 1, 2)
    page.evaluate("bench.engine.refuseJournals = true")
    assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is True
    assert numbers(page) == [1, 2]
    assert "history" in page.evaluate("bench.say('engine')")
    add(page, 3)
    kept(page)
    page.close()
    page = open_bench()
    assert numbers(page) == [1, 2, 3]
    assert page.evaluate("bench.act({do: 'undo'})") == [1, 2]


NO_LOCKS = "Object.defineProperty(navigator, 'locks', {value: undefined})"


@pytest.mark.parametrize("script", ["", NO_LOCKS], ids=["locks", "no-locks"])
def test_a_second_window_only_looks_until_it_takes_over(open_bench: Open, wait_until: Wait, script: str) -> None:
    first = open_bench(script)
    add(first, 1)
    kept(first)
    second = open_bench(script)
    assert numbers(second) == [1]
    assert second.evaluate("bench.readOnly") is True
    assert first.evaluate("bench.readOnly") is False
    add(first, 2)
    second.evaluate("bench.press('tabs', 'Take over')")
    assert numbers(second) == [1, 2], "what the first window did meanwhile came along"
    assert second.evaluate("[bench.readOnly, bench.say('tabs')]") == [False, None]
    wait_until(first, "bench.readOnly && bench.say('tabs')")
    add(second, 3)
    kept(second)
    assert first.evaluate("bench.keeper.flush().then(() => bench.store.read(bench.keeper.id))")["journal"]["at"] == 3
    first.evaluate("bench.press('tabs', 'Take over')")
    assert numbers(first) == [1, 2, 3]


@pytest.mark.parametrize("script", ["", NO_LOCKS], ids=["locks", "no-locks"])
def test_a_window_that_looked_may_change_the_sketch_once_the_other_is_closed(
    open_bench: Open, wait_until: Wait, script: str
) -> None:
    first = open_bench(script)
    add(first, 1)
    kept(first)
    second = open_bench(script)
    add(first, 2)
    kept(first)
    first.close()
    wait_until(second, "bench.readOnly === false && bench.painted.numbers.length === 2")
    assert second.evaluate("bench.say('tabs')") is None
    add(second, 3)
    assert numbers(second) == [1, 2, 3]


# The timers of a handover are kept here and end only when the test says so.
HELD_TIMERS = """{
  window.handovers = [];
  const [start, stop] = [setTimeout, clearTimeout];
  window.setTimeout = (act, wait_ms, ...words) => {
    if (wait_ms !== 3000) return start(act, wait_ms, ...words);
    const timer = { end: () => act(...words) };
    handovers.push(timer);
    return timer;
  };
  window.clearTimeout = (timer) => {
    if (handovers.includes(timer)) handovers.splice(handovers.indexOf(timer), 1);
    else stop(timer);
  };
}"""


def test_a_window_that_gave_a_sketch_away_and_has_it_back_keeps_it(open_bench: Open, wait_until: Wait) -> None:
    first = open_bench(HELD_TIMERS)
    add(first, 1)
    kept(first)
    second = open_bench()
    second.evaluate("bench.press('tabs', 'Take over')")
    wait_until(first, "bench.readOnly === true && bench.say('tabs')")
    second.close()
    wait_until(first, "bench.readOnly === false")
    ended = "for (const { end } of [...handovers]) end()"
    assert first.evaluate(f"() => {{ {ended}; return [bench.readOnly, bench.say('tabs')]; }}") == [False, None]
    add(first, 2)
    assert numbers(first) == [1, 2]


def test_working_on_a_copy_leaves_the_sketch_of_the_other_window_alone(open_bench: Open, wait_until: Wait) -> None:
    first = open_bench()
    add(first, 1)
    kept(first)
    second = open_bench()
    second.evaluate("bench.press('tabs', 'Work on a copy')")
    add(second, 2)
    kept(second)
    add(first, 3)
    kept(first)
    assert second.evaluate("bench.keeper.id") != first.evaluate("bench.keeper.id")
    assert second.evaluate("bench.act({do: 'undo'}).then(() => bench.act({do: 'undo'}))") == []
    kept(second)
    for page in (first, second):
        page.reload()
        wait_until(page, "window.bench?.ready")
    assert len(first.evaluate("bench.store.list()")) == 2
    second.evaluate("bench.act({do: 'redo'})")
    assert (numbers(first), numbers(second)) == ([1, 3], [1])


def test_a_window_that_does_not_answer_is_overruled_and_overwrites_nothing(open_bench: Open, wait_until: Wait) -> None:
    first = open_bench("BroadcastChannel.prototype.addEventListener = () => {}")  # it hears nothing, as if frozen
    add(first, 1)
    kept(first)
    second = open_bench()
    second.evaluate("bench.press('tabs', 'Take over')")
    assert second.evaluate("bench.readOnly") is False
    wait_until(first, "bench.readOnly === true")
    add(second, 2)
    kept(second)
    assert first.evaluate("bench.keeper.flush().then(() => bench.store.read(bench.keeper.id))")["journal"]["at"] == 2


def test_without_locks_or_channels_storage_itself_refuses_to_overwrite(open_bench: Open, wait_until: Wait) -> None:
    alone = NO_LOCKS + "; delete window.BroadcastChannel"
    first = open_bench(alone)
    add(first, 1)
    kept(first)
    second = open_bench(alone)
    add(second, 2)
    kept(second)
    add(first, 3)
    kept(first)
    wait_until(first, "bench.readOnly && bench.say('tabs')")
    stored = second.evaluate("bench.store.read(bench.keeper.id)")
    assert json.loads(stored["journal"]["current"])["numbers"] == [1, 2]
    first.evaluate("bench.press('tabs', 'Work on a copy')")
    kept(first)
    stored = first.evaluate("bench.store.read(bench.keeper.id)")
    assert json.loads(stored["journal"]["current"])["numbers"] == [1, 3], "its own change is not lost either"


REFUSES = "indexedDB.__proto__.open = () => { throw new DOMException('denied', 'SecurityError'); }"
SILENT = "indexedDB.__proto__.open = () => ({})"


@pytest.mark.parametrize("script", [REFUSES, SILENT], ids=["throws", "never-answers"])
def test_storage_that_is_not_there_is_said_and_work_goes_on(open_bench: Open, script: str) -> None:
    page = open_bench(script, "?patience_ms=100")
    assert page.evaluate("bench.say('storage')").startswith("Not kept")
    assert page.evaluate("bench.warnsBeforeLeaving()") is False, "there is nothing to lose yet"
    add(page, 1, 2)
    kept(page)
    assert page.evaluate("bench.act({do: 'undo'})") == [1]
    kept(page)
    assert page.evaluate("bench.say('storage')").startswith("Not kept")
    assert page.evaluate("bench.warnsBeforeLeaving()") is True
    first = page.evaluate("bench.keeper.id")
    page.evaluate("bench.begin('Second')")
    page.evaluate("(id) => bench.keeper.reopen(id)", first)
    assert numbers(page) == [1], "what was left is still in memory"
    assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is True
    assert numbers(page) == [1]


def test_storage_that_answers_late_after_all_is_no_longer_complained_of(open_bench: Open, wait_until: Wait) -> None:
    late = """
      const open = indexedDB.__proto__.open;
      window.gate = new Promise((resolve) => (window.openGate = resolve));
      indexedDB.__proto__.open = function (...words) {
        const waiting = {};
        window.gate.then(() => {
          const request = open.apply(indexedDB, words);
          request.onupgradeneeded = () => { waiting.result = request.result; waiting.onupgradeneeded(); };
          request.onsuccess = () => { waiting.result = request.result; waiting.onsuccess(); };
        });
        return waiting;
      };
    """
    page = open_bench(late, "?patience_ms=100")
    add(page, 1)
    kept(page)
    assert page.evaluate("bench.say('storage')").startswith("Not kept")
    page.evaluate("openGate()")
    wait_until(page, "bench.say('storage') === null")
    kept(page)
    assert page.evaluate("bench.warnsBeforeLeaving()") is False
    page.close()
    assert numbers(open_bench()) == [1]


def full_for(what: str) -> str:
    return f"""
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (value) {{
        if (window.full && ({what})(this.name, value)) throw new DOMException("full", "QuotaExceededError");
        return put.call(this, value);
      }};
    """


def test_a_full_storage_gives_up_the_picture_before_anything_else(open_bench: Open) -> None:
    page = open_bench(full_for("(store) => store === 'pictures'"))
    add(page, 1)
    kept(page)
    page.evaluate("window.full = true")
    add(page, 2)
    kept(page)
    assert page.evaluate("bench.say('storage')") is None, "nothing is lost, so nothing is said"
    page.close()
    page = open_bench()
    assert page.evaluate("bench.recalled.picture") is None
    assert numbers(page) == [1, 2]
    assert page.evaluate("bench.act({do: 'undo'})") == [1]


def test_a_full_storage_gives_up_old_steps_next_and_says_so(open_bench: Open) -> None:
    page = open_bench(full_for("(store, value) => store === 'pictures' || value.number === 2"))
    add(page, 1, 2)
    kept(page)
    page.evaluate("window.full = true")
    add(page, 3)
    kept(page)
    assert "undo will not reach back" in page.evaluate("bench.say('storage')")
    add(page, 4)
    assert page.evaluate("(bench.engine.kill(), bench.recoveries.at(-1))") is True
    assert page.evaluate("bench.act({do: 'undo'}).then(() => bench.act({do: 'undo'}))") == [1, 2], "here undo goes on"
    page.evaluate("window.full = false")
    page.evaluate("bench.act({do: 'redo'})")
    kept(page)
    page.close()
    page = open_bench()
    assert numbers(page) == [1, 2, 3]
    assert page.evaluate("bench.act({do: 'redo'})") == [1, 2, 3, 4], "nothing ahead was lost"


def test_a_storage_with_no_room_at_all_is_said_and_recovers(
    open_bench: Open, context: BrowserContext, bench_url: str, wait_until: Wait
) -> None:
    # Before anything is written: the browser lets small writes pass for a while once it has found room.
    browser = context.new_cdp_session(context.new_page())
    browser.send("Storage.overrideQuotaForOrigin", {"origin": bench_url.rstrip("/"), "quotaSize": 1})
    page = open_bench()
    add(page, 1, 2)
    kept(page)
    assert "full" in page.evaluate("bench.say('storage')")
    assert page.evaluate("bench.warnsBeforeLeaving()") is True
    browser.send("Storage.overrideQuotaForOrigin", {"origin": bench_url.rstrip("/")})
    page.evaluate("bench.press('storage', 'Try again')")
    wait_until(page, "bench.say('storage') === null")
    page.close()
    assert numbers(open_bench()) == [1, 2]


def test_a_database_closed_under_the_page_is_opened_again(open_bench: Open) -> None:
    page = open_bench("""
      const open = indexedDB.__proto__.open;
      indexedDB.__proto__.open = function (...words) {
        const request = open.apply(this, words);
        request.addEventListener("success", () => (window.connection = request.result));
        return request;
      };
    """)
    add(page, 1)
    kept(page)
    page.evaluate("connection.close()")
    add(page, 2)
    kept(page)
    page.evaluate("bench.keeper.flush()")
    assert page.evaluate("bench.say('storage')") is None
    page.close()
    assert numbers(open_bench()) == [1, 2]


def test_the_browser_is_asked_once_to_keep_for_good_and_only_after_a_change(open_bench: Open, wait_until: Wait) -> None:
    counting = "navigator.storage.persist = async () => { window.asks = (window.asks ?? 0) + 1; return true; }"
    page = open_bench(counting)
    kept(page)
    assert page.evaluate("window.asks ?? 0") == 0
    add(page, 1)
    kept(page)
    wait_until(page, "window.asks === 1")
    add(page, 2)
    kept(page)
    page.close()
    page = open_bench(counting)
    add(page, 3)
    kept(page)
    assert page.evaluate("window.asks ?? 0") == 0


@pytest.mark.parametrize(
    ("make", "code"),
    [
        ("new File([new Uint8Array(8000001)], 'big.json')", "file-too-large"),
        ("new File([], 'none.json')", "file-empty"),
        ("new File([new Uint8Array([0xff, 0xfe, 0x7b, 0x00])], 'wide.json')", "file-not-text"),
    ],
)
def test_a_file_that_is_no_sketch_is_refused_in_words(open_bench: Open, make: str, code: str) -> None:
    problem = open_bench().evaluate(
        f"bench.files.readFile({make}).then(() => null, (it) => ({{...it, message: it.message}}))"
    )
    assert problem["code"] == code
    assert problem["where"] == "file"
    assert problem["message"].startswith("“") and problem["message"].endswith(".")
    assert problem["hint"].endswith(".")


def test_a_text_file_is_read_without_its_byte_order_mark(open_bench: Open) -> None:
    text = open_bench().evaluate("bench.files.readFile(new File(['\\ufeff{\"é\": 1}'], 'a.json'))")
    assert text == '{"é": 1}'


def test_a_saved_file_is_downloaded_where_the_browser_has_no_picker(open_bench: Open) -> None:
    page = open_bench("delete window.showSaveFilePicker")
    with page.expect_download() as download:
        assert page.evaluate("bench.files.saveFile({text: '{\"π\": 3}', filename: 'pi.json'})") == "downloaded"
    assert download.value.suggested_filename == "pi.json"
    assert Path(download.value.path()).read_text(encoding="utf-8") == '{"π": 3}'


def test_a_save_that_the_user_calls_off_writes_nothing(open_bench: Open) -> None:
    page = open_bench("window.showSaveFilePicker = async () => { throw new DOMException('no', 'AbortError'); }")
    assert page.evaluate("bench.files.saveFile({text: 'x', filename: 'x.json'})") == "cancelled"


def test_a_file_is_chosen_or_dropped_on_the_board(open_bench: Open, wait_until: Wait, tmp_path: Path) -> None:
    page = open_bench()
    file = tmp_path / "crate.json"
    file.write_text('{"crate": 1}', encoding="utf-8")
    with page.expect_file_chooser() as chooser:
        page.evaluate("void bench.files.pickFile().then(bench.files.readFile).then((text) => (bench.chosen = text))")
    chooser.value.set_files(file)
    wait_until(page, "bench.chosen === '{\"crate\": 1}'")
    stopped = page.evaluate(
        """() => {
          const drop = (target) => {
            const carried = new DataTransfer();
            carried.items.add(new File(["dropped on " + target.tagName], "a.json"));
            return ["dragover", "drop"].map((type) => !target.dispatchEvent(
              new DragEvent(type, {bubbles: true, cancelable: true, dataTransfer: carried})));
          };
          return [drop(document.body), drop(document.getElementById("board"))];
        }"""
    )
    assert stopped == [[True, True], [True, True]], "the browser never opens a dropped file over the page"
    wait_until(page, "bench.dropped === 'dropped on MAIN'")
