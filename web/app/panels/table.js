/** The forces table: each force a row, lit with its arrow, and the three sums at the foot. */

import { make, put, reconcile, say, sayWords } from "../dom.js";
import { MeterView } from "./meter.js";
import { senseIcon } from "./sense.js";

/** @typedef {import("../protocol.js").Table} Table */
/** @typedef {import("../protocol.js").TableRow} TableRow */

/**
 * The sense that counts as positive, drawn last in a heading; drawn anew only when it changes.
 * @param {Element} heading
 * @param {import("../protocol.js").Sense|undefined} sense
 */
function showPositive(heading, sense) {
  const key = sense ? `${sense.kind === "turn" ? sense.turn : sense.angle_deg} ${sense.words}` : null;
  if (heading.getAttribute("data-positive") === key) return;
  put(heading, "data-positive", key);
  heading.querySelector(".sense")?.remove();
  if (sense) heading.append(senseIcon(sense));
}

/**
 * @param {HTMLElement} root
 * @param {import("../state.js").State} state
 */
export function createTable(root, state) {
  const head = make("tr");
  const body = make("tbody");
  const foot = make("tfoot");
  const table = make("table", { class: "forces", "aria-labelledby": "forces-title" }, make("thead", {}, head), body, foot);
  const none = make("p", { class: "side-none", text: "None yet." });
  const scroller = make("div", { class: "forces-room" }, table, none);
  root.append(make("h2", { class: "side-heading", id: "forces-title", text: "Forces" }), scroller);
  body.addEventListener("click", (event) => {
    const row = event.target instanceof Element ? event.target.closest("tr") : null;
    if (row?.dataset.of) void state.select(row.dataset.of);
  });

  /** @type {WeakMap<Element, string>} what each row says, so that it is looked through only when that changes */
  const said = new WeakMap();

  /** @param {HTMLTableRowElement} element @param {TableRow} row */
  function fillRow(element, row) {
    const wanted = JSON.stringify(row);
    if (said.get(element) === wanted) return;
    said.set(element, wanted);
    put(element, "data-of", row.id);
    put(element, "class", `row-${row.guess ? "guess" : row.role}${element.classList.contains("lit") ? " lit" : ""}`);
    reconcile(
      element,
      row.cells,
      (cell) => cell.key,
      (cell) => {
        const holder = cell.key === "symbol" ? make("button", { type: "button", class: "row-button" }) : make("span", { class: "cell-words" });
        return make(cell.key === "symbol" ? "th" : "td", { class: `cell-${cell.key}`, scope: cell.key === "symbol" ? "row" : null }, holder);
      },
      (cellElement, cell) => {
        const holder = cellElement.firstElementChild;
        if (!holder) return;
        sayWords(holder, cell.runs);
        put(cellElement, "data-sense", cell.sense || null);
        if (cell.key === "symbol") put(holder, "aria-label", row.guess ? `${row.spoken}, your guess` : row.spoken);
        const turn = { "1": "↺", "-1": "↻" }[String(cell.sense)];
        let sign = /** @type {HTMLElement|null} */ (cellElement.querySelector(".turn-sign"));
        if (turn && !sign) {
          sign = make("span", { class: "turn-sign", role: "img" });
          cellElement.append(sign);
        } else if (!turn) sign?.remove();
        if (turn && sign) {
          say(sign, turn);
          put(sign, "aria-label", cell.spoken ?? null);
        }
      },
    );
  }

  /** @type {WeakMap<Element, MeterView>} */
  const meterViews = new WeakMap();

  /** @param {TableRow} row @param {import("../protocol.js").Meter} meter */
  function makeMeterRow(row, meter) {
    const view = new MeterView(meter);
    const element = make("tr", { class: "meter-row", "data-of": row.id }, make("td", { colspan: "6" }, view.element));
    meterViews.set(element, view);
    return element;
  }

  return {
    /** @param {Table} data */
    update(data) {
      table.hidden = data.rows.length === 0;
      none.hidden = !table.hidden;
      reconcile(
        head,
        data.columns,
        (column) => column.key,
        (column) => make("th", { scope: "col", class: `cell-${column.key}` }, make("span", { "aria-hidden": "true" }), make("span", { class: "unseen" })),
        (element, column) => {
          say(element.children[0], column.label);
          say(element.children[1], column.spoken);
          showPositive(element, column.positive);
        },
      );
      // Below a force, what is needed of it beside what is there.
      /** @type {Array<{row: TableRow, meter: import("../protocol.js").Meter|null}>} */
      const lines = data.rows.flatMap((row) => [{ row, meter: null }, ...row.meters.map((meter) => ({ row, meter }))]);
      reconcile(
        body,
        lines,
        ({ row, meter }) => `${row.id} ${row.guess} ${meter?.key ?? ""}`,
        ({ row, meter }) => (meter ? makeMeterRow(row, meter) : make("tr")),
        (element, { row, meter }) => (meter ? meterViews.get(element)?.update(meter) : fillRow(element, row)),
      );
      reconcile(
        foot,
        data.totals,
        (total) => total.key,
        () => make("tr", {}, make("th", { scope: "row", colspan: "2" }, make("span")), make("td", { colspan: "4" })),
        (element, total) => {
          sayWords(element.children[0].children[0], total.label);
          showPositive(element.children[0], total.positive);
          put(element.children[0], "aria-label", total.spoken);
          sayWords(element.children[1], total.runs);
        },
      );
    },
  };
}
