import { apply, type Segment } from '../geometry';
import type { Shop, Strip } from '../job';
import { type Highs, solveChoice } from '../search';
import { collide, sameSlab } from './collide';
import type { Candidate } from './placement';
import { stripMap } from './strips';
import { worth } from './worth';

/** A set of places, one a top at most, that do not get into each other's way. */
export interface Choice {
  readonly candidates: readonly Candidate[];
  readonly gap: number;
}

/** Two joints nearer than this, mm, with everything else alike, are one and the same plan to a maker. */
const ALIKE_OFFSET = 25;
const ALIKE_ALONG = 60;

const clash = (a: Candidate, b: Candidate, kerf: number): boolean =>
  a.placement.strips.some((s) => b.placement.strips.some((t) => collide(s, t, kerf)));

/** Distance, across and along, between the same edge of two strips of one face. */
function apart(a: Strip, b: Strip): { across: number; along: number } {
  const edge = (s: Strip): Segment<'face'> | null => s.jointBack ?? s.jointFront;
  const [p, q] = [edge(a), edge(b)];
  const toA = stripMap(a);
  const [from, to] = p && q ? [p[0], q[0]] : [a.finished[0], b.finished[0]];
  if (!from || !to) return { across: Infinity, along: Infinity };
  const [x0, y0] = apply(toA, from);
  const [x1, y1] = apply(toA, to);
  return { across: Math.abs(y1 - y0), along: Math.abs(x1 - x0) };
}

/** Whether a maker would call the two places of a top the same. */
export function alike(a: Candidate, b: Candidate): boolean {
  const [s, t] = [a.placement.strips, b.placement.strips];
  if (a.top.id !== b.top.id || s.length !== t.length) return false;
  return s.every((strip, i) => {
    const other = t[i] as Strip;
    if (!sameSlab(strip, other) || strip.face !== other.face) return false;
    // Turned end for end, the direction of the top's x on the slab is the opposite.
    if (strip.toTop[0] * other.toTop[0] + strip.toTop[1] * other.toTop[1] < 0) return false;
    const { across, along } = apart(strip, other);
    return across < ALIKE_OFFSET && along < ALIKE_ALONG;
  });
}

/**
 * The best choice, and then others that a maker would call different: each next one must place the largest top elsewhere.
 * A later choice that places fewer tops than the first is not offered.
 */
export function rankedChoices(
  highs: Highs,
  candidates: readonly Candidate[],
  shop: Shop,
  count: number,
  nodes?: number,
): Choice[] {
  const kerf = Math.max(shop.kerf.crosscut, shop.kerf.rip);
  const conflicts: [number, number][] = [];
  candidates.forEach((a, i) => {
    for (let j = i + 1; j < candidates.length; j++) {
      const b = candidates[j] as Candidate;
      if (a.top.id !== b.top.id && clash(a, b, kerf)) conflicts.push([i, j]);
    }
  });
  const values = candidates.map(worth);
  const choices: Choice[] = [];
  let open = candidates.map((_, i) => i);
  while (choices.length < count && open.length > 0) {
    const position = new Map(open.map((index, k) => [index, k]));
    const { chosen, gap } = solveChoice(highs, {
      candidates: open.map((i) => ({ value: values[i] as number, groups: [(candidates[i] as Candidate).top.id] })),
      conflicts: conflicts.flatMap(([i, j]) => {
        const [a, b] = [position.get(i), position.get(j)];
        return a !== undefined && b !== undefined ? [[a, b] as const] : [];
      }),
      ...(nodes === undefined ? {} : { nodes }),
    });
    const picked = chosen.map((k) => candidates[open[k] as number] as Candidate);
    if (picked.length === 0 || picked.length < (choices[0]?.candidates.length ?? 0)) break;
    choices.push({ candidates: picked, gap });
    const largest = picked.reduce((a, b) => (b.top.length * b.top.depth[1] > a.top.length * a.top.depth[1] ? b : a));
    open = open.filter((i) => !alike(candidates[i] as Candidate, largest));
  }
  return choices;
}
