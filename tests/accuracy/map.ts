import { type Datum, trilaterate } from '../../src/cutmap';
import { type MeasuredSlab, measuresOf, type SlabMeasures } from '../../src/cutmap/measures';
import { bounds, distance, type Point, type Polygon, rectangle } from '../../src/geometry';
import { emptyFace, type Face } from '../../src/job';
import { type Cv, calibrate } from '../../src/photo';
import { measure } from '../../src/photo/measure';
import { InputProblem } from '../../src/units';
import { TRIALS, type Trial } from './distances';
import { heightOf, projected, type Subject, woodOf } from './photos';
import { percent, quantile, type Row, rms, share } from './table';

/**
 * The cutting map against the truth behind the rendering: every slab gets a blank along its lower edge, its marks are proposed, and each length that its
 * sheets print is held against the wood that the photo shows at both its ends.
 */

/** One printed length. mm */
interface Printed {
  readonly said: number;
  readonly truth: number;
  readonly plusMinus: number;
}

interface Found {
  readonly lengths: Printed[];
  /** From where the plan has a point to where the printed tapes cross in the plan, and on the wood from holes drilled where the photo shows the marks. */
  readonly onPlan: number[];
  readonly onWood: number[];
}

const TOLD: readonly Trial['told'][] = ['cards alone', 'cards and heights', 'sheet and lens', 'rods'];
/** As the sheets print: tenths of a millimetre. */
const printed = (mm: number): number => Math.round(mm * 10) / 10;

export async function map(cv: Cv, all: readonly Subject[]): Promise<Row[]> {
  const rows: Row[] = [];
  const onPlan: number[] = [];
  for (const told of TOLD) {
    const found: Found[] = [];
    for (const trial of TRIALS.filter((one) => one.told === told)) {
      for (const s of all.filter((one) => trial.on(one) && !one.name.startsWith('leaves'))) {
        const slab = await mapped(cv, s, trial);
        if (slab) found.push(slab);
      }
    }
    if (found.length === 0) continue;
    const lengths = found.flatMap((one) => one.lengths);
    const off = lengths.map(({ said, truth }) => Math.abs(said - truth));
    const inside = share(lengths.map(({ plusMinus }, i) => (off[i] as number) <= plusMinus));
    const onWood = found.flatMap((one) => one.onWood);
    onPlan.push(...found.flatMap((one) => one.onPlan));
    rows.push({
      what: `printed lengths, ${told}: inside their ±`,
      n: lengths.length,
      figure: `${percent(inside, 1)}, ${(rms(lengths.map(({ plusMinus }) => plusMinus)) / rms(off)).toFixed(1)} times the error; points land ${quantile(onWood, 0.5).toFixed(1)} mm off on the wood, 95 % ${quantile(onWood, 0.95).toFixed(1)}`,
      reach: '95 %',
      met: inside >= 0.95,
    });
  }
  rows.push({
    what: 'points by the two printed tapes, on the plan',
    n: onPlan.length,
    figure: `at most ${Math.max(...onPlan).toFixed(2)} mm off`,
    reach: '0.5 mm',
    met: Math.max(...onPlan) <= 0.5,
  });
  return rows;
}

async function mapped(cv: Cv, s: Subject, trial: Trial): Promise<Found | null> {
  const scale = trial.scale(s);
  try {
    const options = s.focal35 === undefined ? {} : { exifFocal35: s.focal35 };
    const calibration = calibrate(cv, await s.photo(), scale, options);
    const view = measure(calibration);
    const seen = woodOf(s).flatMap((p) => {
      const at = view.place(projected(s, p, -heightOf(s, p)));
      return at ? [at] : [];
    });
    const photo = {
      id: 'photo',
      file: 'photo.jpg',
      width: calibration.width,
      height: calibration.height,
      scale,
      calibration,
    };
    const face: Face = { ...emptyFace(), photos: { photo } };
    const measures = measuresOf(planOn(seen), face);
    return measures && held(measures, (p) => shown(s, view.toPhoto(p)));
  } catch (fault) {
    if (!(fault instanceof InputProblem)) throw fault;
    console.error(`${s.name}: ${fault.message}`);
    return null;
  }
}

/** Every printed length against the wood, and where its points land. */
function held(measures: SlabMeasures, truth: (p: Point<'face'>) => Point<'face'>): Found {
  const { datum, points, checks } = measures;
  const [a, b]: Datum = [truth(datum[0]), truth(datum[1])];
  const lengths = checks.map(({ ends: [p, q], mm, plusMinus }) => ({
    said: printed(mm),
    truth: distance(truth(p), truth(q)),
    plusMinus,
  }));
  const [onPlan, onWood]: [number[], number[]] = [[], []];
  for (const { at, tapes, plusMinus, offsets, flat } of points) {
    const wood = truth(at);
    const tape = { fromA: printed(tapes.fromA), fromB: printed(tapes.fromB) };
    lengths.push(
      { said: tape.fromA, truth: distance(a, wood), plusMinus: plusMinus.fromA },
      { said: tape.fromB, truth: distance(b, wood), plusMinus: plusMinus.fromB },
    );
    if (flat) continue;
    const side = offsets.inward >= 0 ? 'right' : 'left';
    onPlan.push(distance(trilaterate(datum, tape, side), at));
    onWood.push(distance(trilaterate([a, b], tape, side), wood));
  }
  return { lengths, onPlan, onWood };
}

/** The wood that the truth's camera shows at a pixel. */
function shown(s: Subject, [u, v]: Point<'photo'>): Point<'face'> {
  const at = (p: Point<'face'>) => projected(s, p, -heightOf(s, p));
  let p: Point<'face'> = [1300, s.truth.warp_model.yc ?? 0];
  for (let i = 0; i < 30; i++) {
    const [q, dx, dy] = [at(p), at([p[0] + 1, p[1]]), at([p[0], p[1] + 1])];
    const [a, b, c, d] = [dx[0] - q[0], dy[0] - q[0], dx[1] - q[1], dy[1] - q[1]];
    const [e, f] = [u - q[0], v - q[1]];
    const det = a * d - b * c;
    p = [p[0] + (e * d - b * f) / det, p[1] + (a * f - c * e) / det];
  }
  return p;
}

/** A plan on an outline: one strip along the lower live edge with its rough cuts, its joint, and keys on a line through it. */
function planOn(outer: Polygon<'face'>): MeasuredSlab {
  const { minX, minY, maxX, maxY } = bounds(outer);
  const [x0, x1, y] = [minX + 180, maxX - 180, minY + 0.42 * (maxY - minY)];
  const line = (number: number, kind: 'crosscut' | 'rip', ...ends: Datum) =>
    ({ number, kind, stage: 'rough', line: ends }) as const;
  const joint: Datum = [
    [x0 + 25, y + 10],
    [x1 - 25, y + 10],
  ];
  const key = (k: number) => {
    const outline = rectangle<'face'>(x0 + 300 * k, y + 100, x0 + 300 * k + 60, y + 160);
    return { outline, pocket: outline, size: 'large', top: 'top', number: k, proposed: false };
  };
  return {
    outline: { outer, holes: [] },
    outlineSigma: 0.5,
    pointSigma: [],
    defects: [],
    farDefects: [],
    marks: null,
    keys: [1, 2, 3, 4, 5].map(key),
    blanks: [
      {
        topName: 'Top',
        strip: 0,
        rough: rectangle(x0, y, x1, maxY),
        finished: rectangle(x0 + 25, y + 10, x1 - 25, maxY),
        jointFront: null,
        jointBack: joint,
      },
    ],
    cuts: [
      line(1, 'crosscut', [x0, minY - 50], [x0, maxY + 50]),
      line(2, 'crosscut', [x1, minY - 50], [x1, maxY + 50]),
      line(3, 'rip', [x0, y], [x1, y]),
    ],
  };
}
