import type { EvenFace } from '../../src/grain/even-faces';
import { seededRandom } from '../../src/search';

/** A level line on a face of a flitch, from x on. */
export interface Place {
  readonly face: number;
  readonly x: number;
  readonly y: number;
}

/** A side that keeps what lies at less y than its line, and sides that keep what lies at more: the one that goes on from it, and wrong ones. */
export interface Question {
  readonly side: Place;
  readonly goesOn: Place;
  readonly wrong: readonly Place[];
}

export interface Draw {
  readonly length: number;
  /** Wood gone between a side and what goes on from it, mm. */
  readonly gap: number;
  /** How far wrong lines lie from the right one on its face, mm; on the other face, whose figure is the same but for the saw's kerf, too. */
  readonly off: readonly [least: number, most: number];
  /** Whether wrong lines come from the other face as well. */
  readonly others: boolean;
  readonly questions: number;
  readonly wrongs: number;
  readonly seed: number;
}

/** So much wood must lie beside a line, mm, and be sound over this share of it. */
const BESIDE = 10;
const SOUND = 0.85;

/** Draws questions from sound wood; fewer where a flitch has too little of it. */
export function draw(faces: readonly EvenFace[], wish: Draw): Question[] {
  const random = seededRandom(wish.seed);
  const between = (from: number, to: number) => Math.floor(from + random.next() * (to - from));
  const sums = faces.map(soundSums);
  const sound = ({ face, x, y }: Place, less: boolean): boolean => {
    const { width, height, x0, y0 } = faces[face] as EvenFace;
    const [c, r] = [x - x0, less ? y - y0 - BESIDE : y - y0];
    if (c < 0 || c + wish.length > width || r < BESIDE || r + 2 * BESIDE > height) return false;
    const at = (row: number, column: number) => sums[face]?.[row * (width + 1) + column] as number;
    const wood = at(r + BESIDE, c + wish.length) - at(r, c + wish.length) - at(r + BESIDE, c) + at(r, c);
    return wood >= SOUND * BESIDE * wish.length;
  };
  const questions: Question[] = [];
  for (let tries = 0; questions.length < wish.questions && tries < 200 * wish.questions; tries++) {
    const face = between(0, faces.length);
    const { width, height, x0, y0 } = faces[face] as EvenFace;
    const side = { face, x: x0 + between(0, Math.max(1, width - wish.length)), y: y0 + between(0, height) };
    const goesOn = { ...side, y: side.y + wish.gap };
    if (!sound(side, true) || !sound(goesOn, false)) continue;
    const wrong: Place[] = [];
    for (let t = 0; wrong.length < wish.wrongs && t < 40 * wish.wrongs; t++) {
      const other = wish.others ? between(0, faces.length) : face;
      const { height: rows, y0: top } = faces[other] as EvenFace;
      const y = wish.others
        ? top + between(0, rows)
        : goesOn.y + (random.next() < 0.5 ? -1 : 1) * between(wish.off[0], wish.off[1] + 1);
      const off = Math.abs(y - goesOn.y);
      const place = { face: other, x: side.x, y };
      if (off >= wish.off[0] && off <= wish.off[1] && sound(place, false)) wrong.push(place);
    }
    if (wrong.length === wish.wrongs) questions.push({ side, goesOn, wrong });
  }
  return questions;
}

/** Sound pixels above and to the left of each corner. */
function soundSums({ width, height, wood }: EvenFace): Float64Array {
  const sums = new Float64Array((width + 1) * (height + 1));
  for (let r = 0; r < height; r++) {
    let row = 0;
    for (let c = 0; c < width; c++) {
      row += wood[r * width + c] as number;
      sums[(r + 1) * (width + 1) + c + 1] = (sums[r * (width + 1) + c + 1] as number) + row;
    }
  }
  return sums;
}

/** What questions came to: costs of right pairs, and of wrong ones. */
export interface Answers {
  readonly right: readonly number[];
  readonly wrong: readonly (readonly number[])[];
}

/** Asks a measure every question; less cost is a better match. */
export function ask(questions: readonly Question[], cost: (side: Place, other: Place) => number): Answers {
  return {
    right: questions.map(({ side, goesOn }) => cost(side, goesOn)),
    wrong: questions.map(({ side, wrong }) => wrong.map((other) => cost(side, other))),
  };
}

/**
 * Area under the receiver's curve: the chance that a right pair costs less than a wrong one drawn from anywhere in the flitch, ties counted half
 * (Hanley and McNeil 1982).
 */
export function areaUnder({ right, wrong }: Answers): number {
  const ranked = [
    ...right.map((cost) => ({ cost, right: true })),
    ...wrong.flat().map((cost) => ({ cost, right: false })),
  ].sort((a, b) => a.cost - b.cost);
  let [won, before] = [0, 0];
  for (let i = 0; i < ranked.length; ) {
    let end = i;
    let [rights, wrongs] = [0, 0];
    while (end < ranked.length && ranked[end]?.cost === ranked[i]?.cost) {
      if (ranked[end]?.right) rights++;
      else wrongs++;
      end++;
    }
    won += wrongs * (before + rights / 2);
    before += rights;
    i = end;
  }
  return won / (right.length * (ranked.length - right.length));
}

/** The same among the wrong lines of each question alone, as a search along one line meets them. */
export function areaByQuestion({ right, wrong }: Answers): number {
  const areas = right.map((cost, i) => areaUnder({ right: [cost], wrong: [wrong[i] as readonly number[]] }));
  return areas.reduce((sum, area) => sum + area, 0) / areas.length;
}
