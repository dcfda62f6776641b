import {
  densify,
  distanceToRing,
  distanceToSegment,
  intersection,
  type Point,
  type Polygon,
  regionContains,
  ringArea,
} from '../../src/geometry';
import type { Scale } from '../../src/job';
import { type Cv, type TraceOutput, tracePhoto } from '../../src/photo';
import { InputProblem } from '../../src/units';
import { coveredPx, heightOf, projected, type Subject, woodOf } from './photos';
import { mean, percent, quantile, type Row, rms, share } from './table';

/** Outline, sapwood, defects and grain against the truth, with the true pose given: what tracing alone is worth. */

interface Traced {
  readonly subject: Subject;
  readonly output: TraceOutput;
}

/** Every so many columns and rows of the truth's grid are enough to give the pose. */
const EVERY = [5, 3] as const;

/** The pose of the truth as known points over the slab, and the true heights of its face: what tracing adds to errors of measuring is seen alone. */
function truePose(s: Subject): Scale {
  const { x, y } = s.truth.mapping_grid;
  const rows = y.filter((_, j) => j % EVERY[1] === 0);
  const at = (every: number): Point<'face'>[] =>
    x.filter((_, i) => i % every === 0).flatMap((u) => rows.map((v): Point<'face'> => [u, v]));
  const seen = (mm: Point<'face'>): Point<'photo'> => projected(s, mm, -heightOf(s, mm));
  const points = at(EVERY[0]).map((mm) => ({ px: seen(mm), mm }));
  return { kind: 'points', points, heights: at(2).map((mm) => ({ px: seen(mm), z: heightOf(s, mm) })) };
}

/** Every photo traced; those in which no wood is found count as missed. */
export async function tracing(cv: Cv, all: readonly Subject[]): Promise<Row[]> {
  const found: Traced[] = [];
  for (const subject of all) {
    try {
      const { output } = await tracePhoto(cv, await subject.photo(), truePose(subject));
      found.push({ subject, output });
      console.error(`${subject.name}: ${described({ subject, output })}`);
    } catch (fault) {
      if (!(fault instanceof InputProblem)) throw fault;
      console.error(`${subject.name}: ${fault.message}`);
    }
  }
  return [
    ...outlineRows(found, all.length),
    ...crackRows(found),
    ...patchRows(found),
    ...sapwoodRows(found),
    ...grainRows(found),
  ];
}

/** How far (mm) the truth's edge lies from the outline, every 5 mm. */
const edgeErrors = ({ subject, output }: Traced): number[] =>
  densify(woodOf(subject), 5).map((p) => distanceToRing(p, output.outline));
const areaError = ({ subject, output }: Traced): number =>
  Math.abs(ringArea(output.outline) / ringArea(woodOf(subject)) - 1);

function described(t: Traced): string {
  const off = edgeErrors(t);
  return `edge ${mean(off).toFixed(2)} mm, 95 % ${quantile(off, 0.95).toFixed(1)}, ± ${(2 * t.output.outlineSigma).toFixed(1)}; area ${percent(areaError(t), 2)}; ${t.output.defects.length} defects`;
}

function outlineRows(found: readonly Traced[], asked: number): Row[] {
  const errors = found.map(edgeErrors);
  const good = errors.filter((off) => mean(off) <= 2 && quantile(off, 0.95) <= 6).length / asked;
  const areas = found.map(areaError);
  const inside = share(errors.flatMap((off, i) => off.map((d) => d <= 2 * (found[i] as Traced).output.outlineSigma)));
  const ratio = mean(found.map(({ output }, i) => (2 * output.outlineSigma) / rms(errors[i] as number[])));
  const [half, most] = [quantile(areas, 0.5), quantile(areas, 0.95)];
  return [
    {
      what: 'outline: mean <= 2 mm and 95 % <= 6 mm',
      n: asked,
      figure: `${percent(good)}; mean ${quantile(errors.map(mean), 0.5).toFixed(2)} mm (median photo)`,
      reach: '88 %',
      met: good >= 0.88,
    },
    {
      what: '  its ±',
      n: errors.flat().length,
      figure: `${percent(inside)} inside, ${ratio.toFixed(1)} times the error`,
      reach: '90 %, 3 times',
      met: inside >= 0.9 && ratio <= 3,
    },
    {
      what: 'area, median / 95 %',
      n: found.length,
      figure: `${percent(half, 2)} / ${percent(most, 2)}`,
      reach: '0.2 % / 1 %',
      met: half <= 0.002 && most <= 0.01,
    },
  ];
}

/** Whether a place of the face can be seen: no card, sheet, rod or clutter lies on it. */
function uncovered(s: Subject): (p: Point<'face'>) => boolean {
  const covers = coveredPx(s).map((outer) => ({ outer, holes: [] }));
  return (p) => {
    const px = projected(s, p, -heightOf(s, p));
    return !covers.some((region) => regionContains(region, px));
  };
}

const CRACK_WITHIN = 4;
const WIDE = 2;

type Line = readonly (readonly number[])[];
const at = (p: readonly number[]): Point<'face'> => [p[0] as number, p[1] as number];
const near = (p: Point<'face'>, lines: readonly Line[], reach: number): boolean =>
  lines.some((line) => line.slice(1).some((q, i) => distanceToSegment(p, [at(line[i] as number[]), at(q)]) <= reach));

function crackRows(found: readonly Traced[]): Row[] {
  let [wide, seen, said, wrong] = [0, 0, 0, 0];
  const widths: number[] = [];
  for (const { subject, output } of found) {
    const open = uncovered(subject);
    const lines = output.defects.flatMap((d) => ('line' in d ? [d.line] : []));
    const truth = subject.face.cracks.map(({ centre_line_xyw }) => centre_line_xyw);
    for (const line of truth) {
      for (const p of line) {
        if ((p[2] as number) <= WIDE || !open(at(p))) continue;
        wide++;
        if (near(at(p), lines, CRACK_WITHIN)) seen++;
      }
    }
    // Half a millimetre apart, so that a false length counts as a length.
    for (const line of lines) {
      for (const [p, q] of line.slice(1).map((q, i) => [line[i] as readonly [number, number, number], q] as const)) {
        const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
        const middle: Point<'face'> = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
        said += length;
        if (!near(middle, truth, CRACK_WITHIN)) wrong += length;
        const own = truth.flat().reduce((a, b) => (gap(b, middle) < gap(a, middle) ? b : a), [1e9, 0, 0]);
        if (gap(own, middle) < CRACK_WITHIN) widths.push(Math.abs((p[2] + q[2]) / 2 - (own[2] as number)));
      }
    }
  }
  const [recall, falsely] = [seen / wide, wrong / said];
  return [
    {
      what: 'cracks over 2 mm: length found / false',
      n: wide,
      figure: `${percent(recall)} / ${percent(falsely, 1)}; width within ${quantile(widths, 0.5).toFixed(1)} mm (median)`,
      reach: '92 % / 8 %',
      met: recall >= 0.92 && falsely < 0.08,
    },
  ];
}

const gap = (p: readonly number[], q: Point<'face'>): number =>
  Math.hypot((p[0] as number) - q[0], (p[1] as number) - q[1]);

/** A knot smaller than this across is not asked for, mm. */
const LEAST_KNOT = 15;
/** Two areas are the same defect where they share so much of the smaller one. */
const SAME = 0.2;
const PATCHES: readonly string[] = ['knot', 'void', 'bark inclusion', 'bark_inclusion'];

function patchRows(found: readonly Traced[]): Row[] {
  let [asked, met, said, right, named] = [0, 0, 0, 0, 0];
  for (const { subject, output } of found) {
    const open = uncovered(subject);
    const all = subject.face.defects.filter(({ cls }) => PATCHES.includes(cls));
    const wanted = all.filter(
      ({ cls, outer }) =>
        open(middleOf(outer)) && (cls !== 'knot' || Math.sqrt((4 * Math.abs(ringArea(outer))) / Math.PI) >= LEAST_KNOT),
    );
    const proposed = output.defects.flatMap((d) =>
      'polygon' in d && d.kind !== 'stain' ? [{ kind: d.kind, outer: d.polygon }] : [],
    );
    asked += wanted.length;
    met += wanted.filter(({ outer }) => proposed.some((p) => same(outer, p.outer))).length;
    said += proposed.length;
    for (const p of proposed) {
      const truth = all.find(({ outer }) => same(outer, p.outer));
      if (truth) right++;
      if (truth?.cls.replace('_', ' ') === p.kind) named++;
    }
  }
  const [recall, precision] = [met / asked, right / said];
  return [
    {
      what: 'knots over 15 mm, voids, bark inclusions: recall / precision',
      n: asked,
      figure: `${percent(recall)} / ${percent(precision)}; the right kind in ${percent(named / right)}`,
      reach: '88 % / 75 %',
      met: recall >= 0.88 && precision >= 0.75,
    },
  ];
}

const middleOf = (ring: Polygon<'face'>): Point<'face'> => [mean(ring.map((p) => p[0])), mean(ring.map((p) => p[1]))];

function same(a: Polygon<'face'>, b: Polygon<'face'>): boolean {
  const shared = intersection([{ outer: a, holes: [] }], [{ outer: b, holes: [] }]);
  const area = shared.reduce((sum, { outer }) => sum + Math.abs(ringArea(outer)), 0);
  return area >= SAME * Math.min(Math.abs(ringArea(a)), Math.abs(ringArea(b)));
}

/** Dark wood with pale sapwood: there the boundary shows. */
const PALE_SAPWOOD = /^(demo|rack|demo-images)\//;

function sapwoodRows(found: readonly Traced[]): Row[] {
  const off: number[] = [];
  let none = 0;
  const dark = found.filter(({ subject }) => PALE_SAPWOOD.test(subject.name) && subject.face.sapwood_boundary);
  for (const { subject, output } of dark) {
    const open = uncovered(subject);
    const { y_low, y_high } = subject.face.sapwood_boundary as NonNullable<Subject['face']['sapwood_boundary']>;
    if (output.sapwood.length === 0) none++;
    else
      for (const p of [...y_low, ...y_high].filter(open))
        off.push(Math.min(...output.sapwood.map((ring) => distanceToRing(p, ring))));
  }
  if (off.length === 0) return [];
  const [half, most] = [quantile(off, 0.5), quantile(off, 0.95)];
  return [
    {
      what: 'sapwood boundary, median / 95 %',
      n: off.length,
      figure: `${half.toFixed(1)} mm / ${most.toFixed(1)} mm${none ? `; ${none} photos without one` : ''}`,
      reach: '1.0 mm / 6 mm',
      met: half <= 1 && most <= 6,
    },
  ];
}

/** Lines further apart than this have no direction that a photo could show (the truth's own note), hundredths of a mm. */
const COHERENT = 2000;

function grainRows(found: readonly Traced[]): Row[] {
  const off: number[] = [];
  for (const { subject, output } of found) {
    const { grain: truth } = subject;
    if (!truth) continue;
    const open = uncovered(subject);
    output.grain.angles.forEach((angle, i) => {
      const { x0, y0, step, columns } = output.grain;
      const p: Point<'face'> = [x0 + (i % columns) * step, y0 + Math.floor(i / columns) * step];
      const [c, r] = [Math.round((p[0] - truth.x0) / truth.step), Math.round((p[1] - truth.y0) / truth.step)];
      const [ring, spacing] = [truth.ring_angle_ddeg[r]?.[c], truth.ring_spacing_cmm[r]?.[c]];
      if (angle === null || ring === undefined || spacing === undefined || ring === -9999) return;
      if (spacing > COHERENT || spacing < 0 || !open(p)) return;
      const turn = Math.abs(angle - ring / DEGREES) % 180;
      off.push(Math.min(turn, 180 - turn));
    });
  }
  if (off.length === 0) return [];
  const [half, most] = [quantile(off, 0.5), quantile(off, 0.9)];
  return [
    {
      what: 'grain angle where rings are under 20 mm apart, median / 90 %',
      n: off.length,
      figure: `${half.toFixed(1)} / ${most.toFixed(1)} degrees`,
      reach: '1.5 / 7 degrees',
      met: half <= 1.5 && most <= 7,
    },
  ];
}

const DEGREES = 10;
