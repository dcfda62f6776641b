import type { FaceFeatures } from '../../src/grain';
import { readEdge } from '../../src/grain/edge';
import type { EvenFace } from '../../src/grain/even-faces';
import { costParts, sideOf } from '../../src/grain/line-cost';
import { draw, type Place } from './seam-pairs';
import { mean, type Row } from './table';

/**
 * How much lines and their wander are to count beside unlikeness, from wood that was never cut but by the saw: for a side on one face of the saw's
 * kerf, the line on the other that goes on from it, against every line of both faces. A search for a seam meets as many.
 */

const LENGTH = 1200;
const QUESTIONS = 20;
/** The saw's kerf may move a ring so far between both faces; that line counts that comes out best, mm. */
const DRIFT = 8;
/** Wrong lines lie as far off, mm, and so far apart. */
const ELSEWHERE = 25;
const APART = 2;
/** Of a joint so much must be sound wood. */
const KNOWN = 0.8;

type Triple = readonly [unlike: number, lines: number, wander: number];
/** What joints of one side cost: with lines about where it goes on, and with all others. */
export interface Contest {
  readonly right: readonly Triple[];
  readonly wrong: readonly Triple[];
}
type Weights = readonly [lines: number, wander: number];

/** Contests of one flitch: two faces on either side of the saw's kerf. */
export function contests(faces: readonly EvenFace[], features: readonly FaceFeatures[]): Contest[] {
  const length = Math.min(LENGTH, Math.floor(0.6 * (faces[0] as EvenFace).width));
  const wish = {
    questions: QUESTIONS,
    wrongs: 1,
    seed: 11,
    length,
    gap: 0,
    off: [40, Infinity],
    others: true,
  } as const;
  return draw(faces, wish)
    .map(({ side }) => contest(features, side, length))
    .filter(({ right }) => right.length > 0);
}

function contest(features: readonly FaceFeatures[], side: Place, length: number): Contest {
  const sideAt = (face: number, y: number, left: boolean) =>
    sideOf(readEdge(features[face] as FaceFeatures, side.x, y, side.x + length, y, left));
  const kept = sideAt(side.face, side.y, false);
  const against = (face: number, y: number): Triple[] => {
    const other = sideAt(face, y, true);
    if (mean([...other.edge.known]) < KNOWN) return [];
    const { unlike, lines, wander } = costParts(kept, other, (features[0] as FaceFeatures).kin);
    return [[unlike, lines, wander]];
  };
  const right = Array.from({ length: 2 * DRIFT + 1 }, (_, i) => against(1 - side.face, side.y + i - DRIFT)).flat();
  const wrong = features.flatMap(({ y0, rows }, face) =>
    Array.from({ length: Math.floor(rows / APART) }, (_, i) => y0 + i * APART)
      .filter((y) => Math.abs(y - side.y) >= ELSEWHERE)
      .flatMap((y) => against(face, y)),
  );
  return { right, wrong };
}

/** How many wrong lines cost no more than what goes on. */
function rank({ right, wrong }: Contest, [lines, wander]: Weights): number {
  const cost = (parts: Triple) => parts[0] + lines * parts[1] + wander * parts[2];
  const best = Math.min(...right.map(cost));
  return wrong.reduce((sum, parts) => sum + (cost(parts) <= best ? 1 : 0), 0);
}

const first = (of: readonly Contest[], weights: Weights) => mean(of.map((one) => (rank(one, weights) === 0 ? 1 : 0)));
/** By the log, so that a line lost among hundreds counts, but not alone. */
const lost = (of: readonly Contest[], weights: Weights) => mean(of.map((one) => Math.log1p(rank(one, weights))));

const TRIED: readonly Weights[] = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4].flatMap((lines) =>
  [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 8].map((wander): Weights => [lines, wander]),
);
/** Those in use (src/grain/line-cost.ts). */
const USED: Weights = [1, 4];

/** A row a flitch: the weights that the others ask for, and how often they, those in use and unlikeness alone put its right line first. */
export function weightRows(flitches: readonly (readonly [name: string, Contest[]])[]): Row[] {
  if (flitches.length < 2) return [];
  const losses = flitches.map(([, of]) => TRIED.map((weights) => lost(of, weights)));
  return flitches.map(([name, of], left): Row => {
    const others = TRIED.map((_, w) => mean(losses.filter((_, f) => f !== left).map((loss) => loss[w] as number)));
    const asked = TRIED[others.indexOf(Math.min(...others))] as Weights;
    const say = (weights: Weights) => first(of, weights).toFixed(2);
    return {
      what: `right line first of all lines of both faces, ${name} left out`,
      n: of.length,
      figure: `lines ${asked[0]}, wander ${asked[1]}: ${say(asked)}; ${USED.join(' and ')} as used: ${say(USED)}; unlikeness alone: ${say([0, 0])}`,
    };
  });
}
