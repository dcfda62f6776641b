import { backward, cholesky, forward } from '../surface';
import type { SlabMeasures } from './measures';
import type { Taped, TapeLength } from './tape-lengths';
import { type Beforehand, type TapeModel, tapeModel } from './tape-model';

/** A reading beside what it should be. mm */
export interface ReadLength extends Taped {
  /** How much more the tape reads. */
  readonly off: number;
  /** What the photo, the marking and the tape together allow, 95 %. */
  readonly allowed: number;
}

/** What may have gone wrong, with how much of it explains the readings. */
export type Suspect =
  /** The wood is larger than the photo said by this share, along and across alike; `sigma` is its one standard deviation. */
  | { readonly kind: 'photo'; readonly share: number; readonly sigma: number }
  /** Along and across unlike: no scale mends it. */
  | { readonly kind: 'stretch'; readonly along: number; readonly across: number }
  /** A mark was drilled, or a point set, so far from its place, as (x, y) on the face. */
  | { readonly kind: 'mark'; readonly label: 'A' | 'B'; readonly by: readonly [number, number] }
  | { readonly kind: 'point'; readonly label: string; readonly by: readonly [number, number] }
  /** One reading stands against the others: misread, or taped elsewhere. */
  | { readonly kind: 'reading'; readonly index: number; readonly mm: number };

/** What the tape says of the marking. */
export interface TapeVerdict {
  readonly lengths: readonly ReadLength[];
  /**
   * `right`: all within what is allowed. `suspects`: one cause explains what is off, the likeliest first. `apart`: the readings contradict each other,
   * whatever single cause is taken. `none`: nothing was taped.
   */
  readonly says: 'none' | 'right' | 'suspects' | 'apart';
  readonly suspects: readonly Suspect[];
  /** The reading that stands out farthest after the best cause is taken off, and by how much, mm; null where they agree. */
  readonly worst: { readonly index: number; readonly mm: number } | null;
}

/** What photo, marking and tape together allow each length to be off by where nothing is wrong, mm, 95 %. */
export function allowances(lengths: readonly TapeLength[], measures: SlabMeasures, before: Beforehand): number[] {
  const taped = lengths.map((length): Taped => ({ ...length, read: length.mm }));
  const { sigma } = fitted(
    tapeModel(taped, measures, before),
    taped.map(({ mm }) => mm),
    () => null,
  );
  return taped.map((_, i) => 2 * sigma(i));
}

/** Standard deviations of a cause that has gone wrong: wide, so that the readings alone say how much. */
const WRONG = { share: 0.05, mm: 80, misread: 400 } as const;
/** What a cause costs beside what it explains (half of it per number that is free, Akaike 1974); rarer ones more (practice). */
const COST = { photo: 2, mark: 4, seenMark: 9, point: 4.5, reading: 5, stretch: 9 } as const;
/** Causes that explain nearly as well as the best are named too. */
const NEARLY = 6;

/**
 * Holds readings against the plan: an adjustment as surveyors make it (Mikhail and Ackermann, Observations and Least Squares, 1976). Each cause by itself
 * is let go wrong, and that one is believed which then explains all of them best: data snooping (Baarda 1968) over the causes of a shop; both from memory.
 */
export function tapeVerdict(taped: readonly Taped[], measures: SlabMeasures, before: Beforehand): TapeVerdict {
  if (taped.length === 0) return { lengths: [], says: 'none', suspects: [], worst: null };
  const model = tapeModel(taped, measures, before);
  const read = taped.map((one) => one.read);
  const usual = fitted(model, read, () => null);
  const lengths = taped.map((one, i): ReadLength => ({ ...one, off: one.read - one.mm, allowed: 2 * usual.sigma(i) }));
  const within = lengths.every((one) => Math.abs(one.off) <= one.allowed);
  if (within || usual.chi2 <= quantile95(taped.length)) return { lengths, says: 'right', suspects: [], worst: null };
  const tried = trials(model, taped, before).map((trial) => {
    const fit = fitted(model, read, trial.wrong);
    return { ...trial, fit, cost: fit.chi2 + trial.cost };
  });
  tried.sort((p, q) => p.cost - q.cost);
  const best = tried[0] as (typeof tried)[number];
  const explains = ({ fit, free }: (typeof tried)[number]): boolean =>
    taped.length <= free || fit.chi2 <= quantile95(Math.max(1, taped.length - free));
  const good = tried.filter((one) => explains(one) && one.cost <= best.cost + NEARLY);
  const left = best.fit.residuals.map(Math.abs);
  const index = left.indexOf(Math.max(...left));
  const worst = { index, mm: best.fit.residuals[index] as number };
  if (good.length === 0) return { lengths, says: 'apart', suspects: [best.told(best.fit)], worst };
  return { lengths, says: 'suspects', suspects: good.map(({ told, fit }) => told(fit)), worst: null };
}

interface Trial {
  /** One standard deviation of a cause that is let go wrong; null leaves it as usual. */
  readonly wrong: (cause: Cause) => number | null;
  readonly free: number;
  readonly cost: number;
  readonly told: (fit: Fit) => Suspect;
}

function trials({ causes }: TapeModel, taped: readonly Taped[], { seen }: Beforehand): Trial[] {
  const all: Trial[] = [
    {
      wrong: ({ of }) => (of === 'scale' ? WRONG.share : null),
      free: 1,
      cost: COST.photo,
      told: (fit) => ({ kind: 'photo', share: fit.value('scale')[0] ?? 0, sigma: fit.doubt('scale') }),
    },
    {
      wrong: ({ of }) => (of === 'along' || of === 'across' ? WRONG.share : null),
      free: 2,
      cost: COST.stretch,
      told: (fit) => ({ kind: 'stretch', along: fit.value('along')[0] ?? 0, across: fit.value('across')[0] ?? 0 }),
    },
  ];
  const labels = new Set(taped.flatMap(({ from, to }) => [from, to]));
  for (const label of new Set(causes.map(({ of }) => of))) {
    if (!labels.has(label)) continue;
    const by = (fit: Fit): readonly [number, number] => [fit.value(label)[0] ?? 0, fit.value(label)[1] ?? 0];
    const mark = label === 'A' || label === 'B';
    all.push({
      wrong: ({ of }) => (of === label ? WRONG.mm : null),
      free: 2,
      cost: mark ? (seen ? COST.seenMark : COST.mark) : COST.point,
      told: (fit) => (mark ? { kind: 'mark', label, by: by(fit) } : { kind: 'point', label, by: by(fit) }),
    });
  }
  taped.forEach((_, index) => {
    all.push({
      wrong: ({ of }) => (of === `reading ${index}` ? WRONG.misread : null),
      free: 1,
      cost: COST.reading,
      told: (fit) => ({ kind: 'reading', index, mm: fit.value(`reading ${index}`)[0] ?? 0 }),
    });
  });
  return all;
}

interface Fit {
  readonly chi2: number;
  /** What each reading still is off by after the causes that went wrong are taken off, mm. */
  readonly residuals: readonly number[];
  sigma(reading: number): number;
  /** The likeliest sizes of the causes of a name, in their order. */
  value(of: string): number[];
  /** One standard deviation of the first of them. */
  doubt(of: string): number;
}

/** A fit has settled when no reading that it foretells moves by more, mm; it does in two or three rounds. */
const SETTLED = 0.02;
const MOST_ROUNDS = 6;

/** The likeliest sizes of all causes, some let go wrong (generalised least squares with what is known beforehand, by Gauss and Newton). */
function fitted(model: TapeModel, read: readonly number[], wrong: (cause: Cause) => number | null): Fit {
  const { causes } = model;
  const n = read.length;
  const variances = causes.map((cause) => (wrong(cause) ?? cause.sigma) ** 2);
  let sizes = causes.map(() => 0);
  let said = model.predict(sizes);
  for (let round = 0; ; round++) {
    const columns = causes.map(({ step }, k) => {
      const moved = model.predict(sizes.with(k, (sizes[k] as number) + step));
      return moved.map((mm, i) => (mm - (said[i] as number)) / step);
    });
    const covariance = new Float64Array(n * n);
    const off = Float64Array.from(read, (mm, i) => mm - (said[i] as number));
    columns.forEach((column, k) => {
      for (let i = 0; i < n; i++) {
        off[i] = (off[i] as number) + (column[i] as number) * (sizes[k] as number);
        for (let j = 0; j < n; j++)
          covariance[i * n + j] =
            (covariance[i * n + j] as number) +
            (variances[k] as number) * (column[i] as number) * (column[j] as number);
      }
    });
    const lower = cholesky(covariance, n);
    const solve = (right: ArrayLike<number>): Float64Array =>
      backward(lower, n, forward(lower, n, Float64Array.from(right)));
    const weighted = solve(off);
    sizes = columns.map((column, k) => (variances[k] as number) * dot(column, weighted));
    const before = said;
    said = model.predict(sizes);
    const moves = Math.max(...said.map((mm, i) => Math.abs(mm - (before[i] as number))));
    if (moves > SETTLED && round < MOST_ROUNDS) continue;
    const settled = sizes;
    const without = model.predict(sizes.map((size, k) => (wrong(causes[k] as Cause) === null ? 0 : size)));
    return {
      chi2: dot(off, weighted),
      residuals: read.map((mm, i) => mm - (without[i] as number)),
      sigma: (i) => Math.sqrt(covariance[i * n + i] as number),
      value: (of) => settled.filter((_, k) => causes[k]?.of === of),
      doubt(of) {
        const k = causes.findIndex((one) => one.of === of);
        const [column, prior] = [columns[k], variances[k]];
        return column && prior ? Math.sqrt(Math.max(0, prior - prior ** 2 * dot(column, solve(column)))) : 0;
      },
    };
  }
}

type Cause = TapeModel['causes'][number];

const dot = (p: ArrayLike<number>, q: ArrayLike<number>): number =>
  Array.from(p).reduce((sum, x, i) => sum + x * (q[i] as number), 0);

/** The chi-squared value that 95 % stay below, by Wilson and Hilferty's cube (1931); within 1 % for two and more. */
function quantile95(freedom: number): number {
  const part = 2 / (9 * freedom);
  return freedom * (1 - part + 1.645 * Math.sqrt(part)) ** 3;
}
