/** Wires the page together: engine, keeper, board, panels and keys know nothing of each other. */

import { boot } from "./boot.js";
import { Board } from "./board/board.js";
import { Ghost } from "./board/ghost.js";
import { Painter } from "./board/painter.js";
import { Swing } from "./board/swing.js";
import { put, takesText } from "./dom.js";
import { Engine } from "./engine/client.js";
import { keepOffline } from "./engine/offline.js";
import { createFileDoors } from "./file-doors.js";
import { createKeeper } from "./keep/keeper.js";
import { listenToKeys } from "./keys/keys.js";
import { light, watchLight } from "./lighting.js";
import { createAbout, createKeysHelp } from "./panels/about.js";
import { createChain } from "./panels/chain.js";
import { createArgument } from "./panels/argument.js";
import { createDock } from "./panels/dock.js";
import { createEmpty } from "./panels/empty.js";
import { createFields } from "./panels/fields.js";
import { createHeader } from "./panels/header.js";
import { createHints } from "./panels/hints.js";
import { createLook } from "./panels/look.js";
import { createMessages } from "./panels/messages.js";
import { createOutline } from "./panels/outline.js";
import { createPartner } from "./panels/partner.js";
import { createPivots } from "./panels/pivots.js";
import { createProblem } from "./panels/problem.js";
import { createRelease } from "./panels/release.js";
import { createSettings } from "./panels/settings.js";
import { followSystem, shadeChoice } from "./panels/shade.js";
import { createShelf } from "./panels/shelf.js";
import { createSide } from "./panels/side.js";
import { createStatus } from "./panels/status.js";
import { createStrips } from "./panels/strips.js";
import { createSystem } from "./panels/system.js";
import { createTable } from "./panels/table.js";
import { createTrack } from "./panels/track.js";
import { createTray } from "./panels/tray.js";
import { createUncertainty } from "./panels/uncertainty.js";
import { createVerdict } from "./panels/verdict.js";
import { createWaking } from "./panels/waking.js";
import { createWorking } from "./panels/working.js";
import { keyActions, notHere } from "./key-actions.js";
import { Sheet } from "./sheet.js";
import { State } from "./state.js";

/** @param {string} id @returns {HTMLElement} */
const part = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

const page = part("page");
const desk = part("desk");
part("unsupported").remove();
page.hidden = false;
followSystem();

const engine = new Engine();
const state = new State(engine);
// For tests: only where the address asks for it, so that no other page can end the engine.
if (new URLSearchParams(location.search).has("testing")) addEventListener("steelyard-test-kill", () => engine.kill());

const status = createStatus(part("status"));
const messages = createMessages(part("board"));
const hints = createHints(part("board"));
const waking = createWaking(part("board"));
/** Says what was done, where it is seen and where it is heard. @param {string} words */
function tell(words) {
  status.now(words);
  messages.notice({ key: "note", tone: "info", text: words, actions: [] });
}
const toBoard = () => desk.focus({ preventScroll: true });

const board = new Board(desk, state, {
  placed: (id) => {
    if (!state.keepTool) state.take(null);
    if (id) void state.select(id);
    sheet.check();
  },
  moved: (of, grip) => {
    hints.did(of, grip);
    if (state.reply) hints.update(state.reply, false);
    sheet.check();
  },
});

const keeper = createKeeper({
  engine,
  onState: (reply) => {
    board.hands.drop();
    state.receive(reply, "open");
  },
  onNotice: (notice) => messages.notice(notice),
  onReadOnly: (readOnly) => {
    state.readOnly = readOnly;
    tray.lock(readOnly);
    verdict.lock(readOnly);
    system.lock(readOnly);
    part("fields").inert = readOnly;
  },
  presentation: () => sheet.presentation(),
});

const files = createFileDoors({ state, keeper, messages, desk, say: tell });
/** @param {string} id another sketch, whose working is read from its beginning */
function reopen(id) {
  state.study = { ...state.study, revealed: 1, way: "sums", order: [] };
  void keeper.reopen(id);
}
const shelf = createShelf({ scenario: files.scenario, reopen, kept: () => keeper.list(), current: () => keeper.id, forget: (id) => keeper.forget(id) });
const about = createAbout();
const keysHelp = createKeysHelp();
const settings = createSettings(state);

const menuItems = () => [
  { label: "New", run: files.blank },
  { label: "Shelf", run: () => void shelf.open(), narrow: true },
  { label: "Open a file", run: files.open, narrow: true },
  { label: "Save a file", run: files.save, narrow: true },
  { label: "Settings", run: settings.open },
  { label: "Keys", run: keysHelp.open },
  { label: "About", run: about.open },
  shadeChoice(),
];
const header = createHeader(part("header"), state, menuItems, [
  { label: "Shelf", run: () => void shelf.open() },
  { label: "Open", run: files.open },
  { label: "Save", run: files.save },
]);

/** @param {"tray"|"side"|""} name what lies over the page on a phone */
function showOver(name) {
  const open = page.dataset.over === name ? "" : name;
  put(page, "data-over", open || null);
  dock.show(open);
  if (open === "side") side.focus();
  else if (open) part(open).querySelector("button")?.focus({ preventScroll: true });
  tellSide();
}
const narrow = matchMedia("(max-width: 979px), (max-height: 519px)");
const sideOpen = () => (narrow.matches && page.dataset.over !== "side" ? "" : side.tab);
/** The engine makes what the side panel shows only while it is open. */
function tellSide() {
  const open = sideOpen();
  if (open !== state.study.side) void state.read({ side: open });
}
narrow.addEventListener("change", tellSide);
page.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || event.defaultPrevented || !page.dataset.over) return;
  event.preventDefault();
  showOver("");
});
const side = createSide(part("side"), tellSide);
state.study = { ...state.study, side: sideOpen() };
const working = createWorking({ root: part("steps"), tools: side.tools }, state, { copy: files.copy, say: (words) => status.now(words) });
/** One step of the working more, or less; a closed working opens first. @param {number} step */
function readOn(step) {
  if (state.study.side === "working") return step > 0 ? working.forward() : working.backward();
  side.choose("working");
  if (narrow.matches && page.dataset.over !== "side") showOver("side");
  return true;
}
// What is chosen in a list that lies over the board is to be seen on the board.
part("forces").addEventListener("click", () => page.dataset.over && showOver(""));
const tray = createTray(part("tray"), state, { close: () => page.dataset.over && showOver(""), refuse: (tool) => tell(notHere(tool)) });
const fields = createFields(part("fields"), state, { toBoard, say: (words) => status.settle(words), idle: () => board.hands.gesture === null });
const chain = createChain(part("fields"), state, { say: (words) => status.now(words) });
const track = createTrack(part("track"), state, { toBoard, say: (words) => status.settle(words), idle: () => board.hands.gesture === null });
const ghost = new Ghost(board.svg);
const release = createRelease(part("release"), state, { toBoard, say: (words) => status.settle(words), show: (outlines) => ghost.show(outlines), clear: () => ghost.clear() });
const verdict = createVerdict(part("readings"), state);
const system = createSystem(verdict.line, state);
const strips = createStrips(part("readings"), (svg) => new Painter(svg, "strips"), state);
const pivots = createPivots(part("pivots"), state, pivotMoved);
const problem = createProblem(part("forces"), { copy: files.words });
const partner = createPartner(part("middle"), (svg) => new Painter(svg, "partner"), state, { toBoard });
const table = createTable(part("forces"), state);
const unsure = createUncertainty(part("forces"), state, { toBoard, say: (words) => status.settle(words), idle: () => board.hands.gesture === null });
const outline = createOutline(part("forces"), state);
const swing = new Swing(state, document);
/** @param {string} name @param {Record<string, unknown>} args once the arrow has come there, what it comes to is said */
const moveGuess = (name, args) => void swing.play(name, args).then((reply) => reply?.ok && status.settle(argument.headline));
const argument = createArgument(part("guess"), state, moveGuess);
const empty = createEmpty(part("board"), () => files.scenario(first?.slug ?? ""));
const looking = { zoom: (/** @type {number} */ steps) => board.zoom(steps), fit: () => void board.fit(), pan: (/** @type {number} */ dx, /** @type {number} */ dy) => board.pan(dx, dy) };
const dockCalls = { tray: () => showOver("tray"), side: () => showOver("side"), pivot: () => void state.select("pivot").then(toBoard) };
const dock = createDock(part("dock"), state, dockCalls, createLook(looking));
part("board").append(createLook(looking));
const sheet = new Sheet(desk, part("readings"), state, () => board.pointer.mode === "idle");

/** A pivot sent off the sheet is brought back into sight. */
function pivotMoved() {
  const ring = state.reply?.picture.targets?.find((target) => target.of === "pivot");
  const { width, height } = state.reply?.picture ?? { width: 0, height: 0 };
  const seen = ring?.points_px.every(([x, y]) => x > 0 && y > 0 && x < width && y < height);
  if (!seen) void board.fit();
  hints.did("pivot", "pivot");
  if (state.reply) hints.update(state.reply, false);
}

/** @type {import("./protocol.js").Scenario|undefined} */
let first;
/** @type {import("./protocol.js").Tool[]} */
let tools = [];
let painted = 0;

/** @param {import("./protocol.js").StateReply} reply */
function paint(reply) {
  const { panels } = reply;
  board.paint(reply, panels.title);
  if (reply.strips) strips.update(reply.strips);
  verdict.update(panels);
  table.update(panels.table);
  unsure.update(panels.unsure);
  track.update(panels.track);
  release.update(panels.release);
  problem.update(panels.problem);
  partner.update(panels.partner);
  if (panels.reasoning) working.update(panels.reasoning.working);
  pivots.update(panels.reasoning?.pivots ?? null);
  fields.update(panels.fields);
  chain.update(panels.chain, reply.view, reply.selected);
  argument.update(panels.reasoning?.argument ?? null);
  hints.update(reply, reply.preview || Boolean(panels.chain) || Boolean(panels.release?.shown) || !state.live || state.readOnly || state.tool !== null || Boolean(page.dataset.over) || takesText(document.activeElement));
  empty.update(panels.empty && state.live, first?.title ?? "");
  if (reply.preview) {
    if (!board.holding) status.hold();
    else if (board.nudged) status.settle(reply.gesture?.readout ?? "");
  } else {
    header.update(reply);
    tray.update(panels);
    dock.update(panels);
    outline.update(panels.outline, reply.selected);
    system.update(panels.system);
    settings.update(panels.settings);
    if (state.live) status.settle(panels.spoken);
  }
  light(state.lit);
  painted += 1;
  put(document.documentElement, "data-seq", painted);
  if (state.live) put(document.documentElement, "data-ready", "true");
  performance.clearMarks("painted");
  performance.mark("painted", { detail: { preview: reply.preview } });
}

// Whoever works the page from outside can see that everything asked so far is answered and painted.
engine.addEventListener("traffic", (event) => {
  const { asked, waiting } = /** @type {CustomEvent} */ (event).detail;
  put(document.documentElement, "data-asked", asked);
  put(document.documentElement, "data-waiting", waiting);
});
state.addEventListener("reply", (event) => {
  const { reply, did } = /** @type {CustomEvent} */ (event).detail;
  paint(reply);
  if (did === "commit" || did === "command" || did === "undo" || did === "redo") {
    keeper.remember(reply, did);
    messages.clear("complaint");
  }
  if (!reply.preview) {
    messages.notice({ key: "note", tone: "info", text: reply.panels.note || null, actions: [] });
    sheet.check();
  }
});
state.addEventListener("complaint", (event) => {
  const complaint = /** @type {CustomEvent} */ (event).detail;
  messages.complain(complaint);
  status.settle(`${complaint.message} ${complaint.hint}`.trim());
});
state.addEventListener("lit", () => light(state.lit));
watchLight(page, (id) => state.hover(id), (id) => state.focus(id));

listenToKeys(desk, keyActions({ state, board, fields, status, tools: () => tools, toBoard, help: keysHelp.open, read: readOn, putBack: () => release.end() }));

void boot({
  engine,
  state,
  keeper,
  waking,
  sheet,
  onHello: (hello) => {
    [first] = hello.scenarios;
    tools = hello.tools.flatMap((group) => group.tools);
    tray.fill(hello.tools);
    shelf.fill(hello.scenarios);
    about.fill(hello);
    keysHelp.fill(hello.tools);
  },
  onLive: () => {
    if (document.activeElement === document.body) {
      desk.classList.add("unasked");
      document.addEventListener("keydown", () => desk.classList.remove("unasked"), { once: true, capture: true });
      toBoard();
    }
    void offline();
  },
});

/** Keep the site for use without a network, and offer a newer one only when it is whole. */
async function offline() {
  const OFFLINE = { off: "", working: "Being kept for use without a network.", kept: "Kept for use without a network.", failed: "Not kept for use without a network." };
  const keeping = await keepOffline({
    onState: (now, reason) => {
      if (now === "update-ready") {
        messages.notice({ key: "update", tone: "info", text: "A newer version is ready.", actions: [{ label: "Use it", run: () => keeping.useUpdate() }] });
      } else about.sayOffline(`${OFFLINE[now]} ${reason}`.trim());
    },
  });
}
