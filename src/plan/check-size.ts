import { bounds, intersection, type Point } from '../geometry';
import { Edges } from './check-edges';
import { beyondRounding, CLOSE, type Fault, findings, type LaidTop, reachFrom, said, solid } from './check-laid';
import { isRectangle } from './check-wants';

/**
 * Whether a top has the size that is wanted: its length, its depth at every place along it, the width of its strips. Between two corners the depth of
 * straight-edged pieces changes evenly, so the corners, and both sides of each, are every millimetre.
 */

/** To either side of a corner, mm: an edge across the top has two depths at one x. */
const BESIDE = 1e-4;
/** Corners stand on whole micrometres: so far inside its ends a top is sure to have begun, mm. */
const BEGUN = 0.005;

type Span = readonly [from: number, to: number];

/** Stretches of y in the strip at `x`. */
function spans(edges: Edges<'top'>, x: number): Span[] {
  const ys = edges.crossings(x);
  return ys.flatMap((y, i): Span[] => (i % 2 === 0 && i + 1 < ys.length ? [[y, ys[i + 1] as number]] : []));
}

/** The first stretch from the back, with what joins it without a gap. */
function fromBack(all: readonly Span[]): Span | null {
  const [last, ...rest] = [...all].sort((a, b) => b[1] - a[1]);
  if (!last) return null;
  let front = last[0];
  for (const [from, to] of rest) {
    if (to < front - CLOSE) break;
    front = Math.min(front, from);
  }
  return [front, last[1]];
}

const width = (span: Span | null): number => (span ? span[1] - span[0] : 0);

/** @returns faults of `length`, `depth`, `strip` and `overlap` */
export function checkSize({ job, top, placement, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  if (strips.length !== placement.strips.length) return faults;
  const corners = strips.flatMap(({ inTop }) => inTop as readonly Point<'top'>[]);
  const box = bounds(corners);
  const plain = isRectangle(top);
  if (plain && (Math.abs(box.minX) > CLOSE || Math.abs(box.maxX - top.length) > CLOSE))
    say('length', `It is ${said(job, box.maxX - box.minX)} long; ${said(job, top.length)} are wanted.`);
  strips.forEach((a, i) => {
    for (const b of strips.slice(i + 1)) {
      const both = beyondRounding(intersection([solid(a.inTop)], [solid(b.inTop)]));
      if (both.length > 0)
        say(
          'overlap',
          `Its strips ${a.index + 1} and ${b.index + 1} overlap by ${said(job, reachFrom(both, [a.inTop]))}.`,
        );
    }
  });
  const pieces = strips.map(({ inTop }) => new Edges([inTop]));
  const xs = corners
    .flatMap(([x]) => [x - BESIDE, x + BESIDE])
    .map((x) => Math.min(Math.min(box.maxX, top.length) - BEGUN, Math.max(Math.max(box.minX, 0) + BEGUN, x)));
  let [least, most, narrowest] = [Infinity, -Infinity, Infinity];
  for (const x of xs) {
    const at = pieces.map((edges) => spans(edges, x));
    const depth = width(fromBack(at.flat()));
    [least, most] = [Math.min(least, depth), Math.max(most, depth)];
    for (const own of at) narrowest = Math.min(narrowest, width(fromBack(own)));
  }
  const [low, high] = top.depth;
  if (plain && least < low - CLOSE)
    say('depth', `It is ${said(job, least)} deep at its narrowest; ${said(job, low)} is the least.`);
  if (plain && most > high + CLOSE)
    say('depth', `It is ${said(job, most)} deep at its widest; ${said(job, high)} is the most.`);
  if (strips.length > 1 && plain && narrowest < top.leastStrip - CLOSE)
    say(
      'strip',
      `A strip is ${said(job, narrowest)} wide at its narrowest; ${said(job, top.leastStrip)} is the least.`,
    );
  return faults;
}
