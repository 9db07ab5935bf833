/**
 * A drawing of the bench as SVG: each mark with its role as a class, so that the style sheet says how it looks.
 * Not here: where a mark stands and what it means, which the bench has worked out; colours (`style`).
 *
 * @import { Drawing, Mark } from "../bench/shapes.js"
 */

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

let count = 0;
/** @type {WeakMap<Drawing, string>} */
const names = new WeakMap();

/**
 * The same drawing keeps its name, so that showing it again changes nothing.
 *
 * @param {Drawing} made
 */
function nameOf(made) {
  const name = names.get(made) ?? `drawing-${(count += 1)}`;
  names.set(made, name);
  return name;
}

/**
 * @param {Drawing} made
 * @param {{ stretched?: boolean }} [how] `stretched`: fills its place whatever its shape, for a bar in a narrow list.
 */
export function drawing(made, { stretched = false } = {}) {
  const name = nameOf(made);
  return html`<svg
    class="drawing"
    viewBox="0 0 ${made.width} ${made.height}"
    preserveAspectRatio=${stretched ? "none" : nothing}
    role="img"
    aria-labelledby="${name}-title"
    aria-describedby="${name}-description"
  >
    <title id="${name}-title">${made.title}</title>
    <desc id="${name}-description">${made.description}</desc>
    ${made.marks.map(markOf)}
  </svg>`;
}

/** @param {Mark} mark */
function markOf(mark) {
  const look = `m-${mark.role}`;
  switch (mark.shape) {
    case "line":
      return svg`<line class=${look} x1=${mark.x} y1=${mark.y} x2=${mark.x2} y2=${mark.y2}></line>`;
    case "rectangle":
      return svg`<path class=${look} d="M${mark.x} ${mark.y}H${mark.x2}V${mark.y2}H${mark.x}Z"></path>`;
    case "dot":
      return svg`<circle class=${look} cx=${mark.x} cy=${mark.y} r=${mark.x2}></circle>`;
    case "text":
      return svg`<text class=${look} x=${mark.x} y=${mark.y} text-anchor=${mark.anchor || "start"}>${mark.text}</text>`;
    case "path":
      return svg`<path class=${look} d=${pathOf(mark)}></path>`;
    default:
      return nothing;
  }
}

/**
 * A doubt is an area and is closed; every other path is a line.
 *
 * @param {Mark} mark
 */
function pathOf({ points, role }) {
  const pairs = points.flatMap((x, i) => (i % 2 === 0 ? [`${x} ${points[i + 1]}`] : []));
  return `M${pairs.join("L")}${role === "doubt" ? "Z" : ""}`;
}
