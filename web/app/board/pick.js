/** What is under a point: targets of the reply, nearest of the first rank first. No geometry beyond distances. */

/** @typedef {import("../protocol.js").Target} Target */
/** @typedef {[number, number]} Point */

/**
 * @param {Target[]} targets
 * @param {Point} point in sheet pixels
 * @param {number} tolerance_px
 * @param {string|null} selected
 * @returns {Target[]} everything within the tolerance, first choice first
 */
export function pick(targets, point, tolerance_px, selected) {
  const found = [];
  for (const target of targets) {
    if (target.selected_only && target.of !== selected) continue;
    const distance = distanceTo(target, point);
    if (distance <= tolerance_px) found.push({ target, distance });
  }
  found.sort((a, b) => a.target.rank - b.target.rank || a.distance - b.distance);
  return found.map(({ target }) => target);
}

/** @param {Target} target @param {Point} point */
function distanceTo(target, point) {
  const points = target.points_px;
  if (target.shape === "dot") return Math.hypot(points[0][0] - point[0], points[0][1] - point[1]);
  if (target.shape === "area" && inside(points, point)) return 0;
  let nearest = Infinity;
  const last = target.shape === "area" ? points.length : points.length - 1;
  for (let index = 0; index < last; index += 1) {
    nearest = Math.min(nearest, toSegment(points[index], points[(index + 1) % points.length], point));
  }
  return nearest;
}

/** @param {Point} from @param {Point} to @param {Point} point */
function toSegment(from, to, point) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length2 = dx * dx + dy * dy;
  const along = length2 === 0 ? 0 : ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / length2;
  const clamped = Math.max(0, Math.min(1, along));
  return Math.hypot(from[0] + clamped * dx - point[0], from[1] + clamped * dy - point[1]);
}

/** @param {Point[]} polygon @param {Point} point */
function inside(polygon, point) {
  let within = false;
  for (let index = 0, before = polygon.length - 1; index < polygon.length; before = index, index += 1) {
    const [ax, ay] = polygon[index];
    const [bx, by] = polygon[before];
    if (ay > point[1] !== by > point[1] && point[0] < ((bx - ax) * (point[1] - ay)) / (by - ay) + ax) within = !within;
  }
  return within;
}
