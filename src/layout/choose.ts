import { apply, type Segment } from '../geometry';
import { type Job, runsOf, type Shop, type Strip, slabKey } from '../job';
import { type Highs, solveChoice } from '../search';
import type { Candidate } from './candidate';
import { collide, sameSlab } from './collide';
import { stripMap } from './strips';
import { slabKeyOf, slabsOf, type Valuer } from './worth';

/** Places that are taken together or not at all: one of a top alone, or those of tops through which the grain goes on. */
export type Option = readonly Candidate[];

/** A set of places, one a top at most, that do not get into each other's way. */
export interface Choice {
  readonly candidates: readonly Candidate[];
  /** The options that were chosen; `candidates` are theirs and those that were fixed. */
  readonly options: readonly Option[];
  /** What it is worth, the slabs that it opens paid. */
  readonly value: number;
  readonly gap: number;
}

/** Two joints nearer than this, mm, with everything else alike, are one and the same plan to a maker. */
const ALIKE_OFFSET = 25;
const ALIKE_ALONG = 60;

const clash = (a: Candidate, b: Candidate, kerf: Shop['kerf']): boolean =>
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

/** What every strip of both places must share where tops must come from one slab or one flitch; null where they need not. */
function sharedSource(job: Job): (a: Candidate, b: Candidate) => boolean {
  const runs = runsOf(job).filter(({ from }) => from !== 'anywhere');
  const source = ({ flitch, slab }: Strip, from: string): string =>
    from === 'one slab' ? slabKey(flitch, slab) : flitch;
  return (a, b) =>
    runs
      .filter(({ tops }) => tops.includes(a.top.id) && tops.includes(b.top.id))
      .every(({ from }) => {
        const strips = [...a.placement.strips, ...b.placement.strips];
        return new Set(strips.map((strip) => source(strip, from))).size === 1;
      });
}

/** Pairs of options that cannot both be taken, and why they cannot is left to the maker's eye. */
export class Conflicts {
  readonly #kerf: Shop['kerf'];
  readonly #fromOne: (a: Candidate, b: Candidate) => boolean;
  readonly #known = new WeakMap<Option, WeakMap<Option, boolean>>();

  constructor(job: Job) {
    this.#kerf = job.shop.kerf;
    this.#fromOne = sharedSource(job);
  }

  /** Whether two options of different tops exclude each other; found once for each pair. */
  between(a: Option, b: Option): boolean {
    const known = this.#known.get(a) ?? new WeakMap<Option, boolean>();
    this.#known.set(a, known);
    const have = known.get(b) ?? this.#find(a, b);
    known.set(b, have);
    return have;
  }

  /** Tells that two options exclude each other for a reason that is not seen here. */
  add(a: Option, b: Option): void {
    this.#known.set(a, (this.#known.get(a) ?? new WeakMap<Option, boolean>()).set(b, true));
    this.#known.set(b, (this.#known.get(b) ?? new WeakMap<Option, boolean>()).set(a, true));
  }

  #find(a: Option, b: Option): boolean {
    return a.some((p) => b.some((q) => clash(p, q, this.#kerf) || !this.#fromOne(p, q)));
  }
}

const topsOf = (option: Option): string[] => option.map(({ top }) => top.id);
const shareTop = (a: Option, b: Option): boolean => topsOf(a).some((top) => topsOf(b).includes(top));

/**
 * The best choice of options beside what is fixed, whose slabs are open already.
 * @param fixed places that stay, whatever they are worth
 */
export function bestChoice(
  highs: Highs,
  all: readonly Option[],
  valuer: Valuer,
  conflicts: Conflicts,
  fixed: readonly Candidate[],
): Choice {
  const options = fixed.length === 0 ? all : all.filter((option) => !conflicts.between(option, fixed));
  const pairs: [number, number][] = [];
  options.forEach((a, i) => {
    for (let j = i + 1; j < options.length; j++) {
      const b = options[j] as Option;
      if (!shareTop(a, b) && conflicts.between(a, b)) pairs.push([i, j]);
    }
  });
  const open = slabsOf(fixed.flatMap(({ stock }) => stock));
  const isOpen = new Set(open.map(slabKeyOf));
  const charges = new Map<string, { charge: number; candidates: number[] }>();
  options.forEach((option, i) => {
    for (const face of slabsOf(option.flatMap(({ stock }) => stock))) {
      const key = slabKeyOf(face);
      if (isOpen.has(key)) continue;
      const known = charges.get(key) ?? { charge: valuer.charge(face), candidates: [] };
      known.candidates.push(i);
      charges.set(key, known);
    }
  });
  const worthOf = (option: Option): number => option.reduce((sum, candidate) => sum + valuer.value(candidate), 0);
  const { chosen, value, gap } = solveChoice(highs, {
    candidates: options.map((option) => ({ value: worthOf(option), groups: topsOf(option) })),
    conflicts: pairs,
    charges: [...charges.values()],
  });
  const picked = chosen.map((i) => options[i] as Option);
  const whole = value + worthOf(fixed) - open.reduce((sum, face) => sum + valuer.charge(face), 0);
  return {
    candidates: [...fixed, ...picked.flat()],
    options: picked,
    value: whole,
    gap: whole > 0 ? (gap * value) / whole : gap,
  };
}
