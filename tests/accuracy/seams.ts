import {
  compareEdges,
  type FaceFeatures,
  faceFeatures,
  type JointLine,
  readEdge,
  scoreJoint,
  unlikeness,
  type WoodFace,
} from '../../src/grain';
import { type EvenFace, evenFaces } from '../../src/grain/even-faces';
import { evenOut, resample } from '../../src/raster';
import { type Contest, contests, weightRows } from './line-weights';
import { blurred, type Flitch, flitches, inOtherLight } from './seam-flitches';
import { type Answers, areaByQuestion, areaUnder, ask, type Draw, draw, type Place, type Question } from './seam-pairs';
import { boundaryDifference, gradientCompatibility, labOf, rgbOf } from './seam-references';
import { mean, quantile, type Row } from './table';

/**
 * Whether the measure of a joint tells the line on which wood goes on from wrong lines, when so much of it is gone. The metric is learnt from each
 * flitch's own kerfs, but which features it has and its two weights were chosen while looking at these flitches: no figure here is of unseen wood.
 * Measuring a joint against uncut wood (blend) is our own idea; published measures are asked the same questions.
 */

const SHORT = 300;
const LONG = 2000;
/** Of the imaginary kerfs that the metric is learnt from where nothing else is asked, mm. */
const KERF = 3;
/** A wrong line lies this far from the right one at least; there the rings are others. */
const ELSEWHERE: Draw['off'] = [25, Infinity];
const NEARBY: Draw['off'] = [8, 25];
const DRAWN = { questions: 250, wrongs: 8, seed: 5 };

interface Prepared extends Flitch {
  readonly even: readonly EvenFace[];
}

/** Unlikeness by our measure; wrong and right sides are read from the faces `later` in the list on. */
function ours(features: readonly FaceFeatures[], length: number, later = 0) {
  const parts = { look: 0, known: 0 };
  return (side: Place, other: Place): number => {
    const p = features[side.face] as FaceFeatures;
    const q = features[other.face + later] as FaceFeatures;
    const less = readEdge(p, side.x, side.y, side.x + length, side.y, false);
    const more = readEdge(q, other.x, other.y, other.x + length, other.y, true);
    return unlikeness(compareEdges(less, more, p.kin, parts));
  };
}

const lineOf = ({ x, y }: Place, keeps: JointLine['keeps'], length: number): JointLine => ({
  line: [
    [x, y],
    [x + length, y],
  ],
  keeps,
});

function blends(
  features: readonly FaceFeatures[],
  questions: readonly Question[],
  length: number,
  later: number,
): number[] {
  return questions.map(({ side, goesOn }) => {
    const [p, q] = [features[side.face] as FaceFeatures, features[goesOn.face + later] as FaceFeatures];
    return scoreJoint(p, lineOf(side, 'right', length), q, lineOf(goesOn, 'left', length)).blend;
  });
}

const two = (x: number) => x.toFixed(3).replace(/^0/, '');

/** Mean and worst over flitches. */
function overFlitches(what: string, answers: Named, reach?: readonly number[]): Row {
  const areas = answers.map(([, one]) => areaUnder(one));
  const [all, worst] = [mean(areas), Math.min(...areas)];
  const each = answers.map(([name], i) => `${name} ${two(areas[i] as number)}`).join(', ');
  const own = two(mean(answers.map(([, one]) => areaByQuestion(one))));
  return {
    what,
    n: answers.reduce((n, [, { right }]) => n + right.length, 0),
    figure: `${two(all)} (${two(worst)}); ${each}; by question ${own}`,
    ...(reach && {
      reach: reach.map(two).join(' / '),
      met: all >= (reach[0] as number) && worst >= (reach[1] ?? 0),
    }),
  };
}

type Named = readonly (readonly [name: string, Answers])[];
type Asked = Map<string, [string, Answers][]>;
function note(asked: Asked, what: string, name: string, answers: Answers): void {
  asked.set(what, [...(asked.get(what) ?? []), [name, answers]]);
}

const CHANGED = 'second photo';
const CLEAN = `${SHORT} mm, 3 mm gone: ours`;
/** So much may be lost on any flitch when the second photo is another. */
const LOSS = 0.01;

/** A changed second photo beside the same questions asked of the photos as they were, flitch by flitch. */
function againstClean(what: string, answers: Named, clean: Named): Row {
  const lost = answers.map(([name, one]) => {
    const before = clean.find(([other]) => other === name)?.[1];
    return before ? areaUnder(before) - areaUnder(one) : Number.NaN;
  });
  return {
    ...overFlitches(what, answers),
    reach: `within ${two(LOSS)} of clean; most lost ${Math.max(...lost).toFixed(3)}${what.includes('blurred') ? '; leaks over the kerf, not judged' : ''}`,
    ...(!what.includes('blurred') && { met: lost.every((loss) => loss <= LOSS) }),
  };
}

const GAPS = [
  { gap: 0, reach: [0.99, 0.98] },
  { gap: 3, reach: [0.96, 0.93] },
  { gap: 6, reach: [0.94, 0.9] },
  { gap: 10, reach: [0.91, 0.84] },
] as const;

/** All rows of the section. @param folder holds rendered flitches with their truth; names: only flitches whose name has one of them */
export async function seams(folder: string, names: readonly string[]): Promise<Row[]> {
  const all = await flitches(folder);
  const chosen = all.filter(({ name }) => names.length === 0 || names.some((part) => name.includes(part)));
  const asked: Asked = new Map();
  const reaches = new Map<string, readonly number[]>();
  const medians: [string, string, number][] = [];
  const kerfs: [string, Contest[]][] = [];
  for (const flitch of chosen) {
    const prepared: Prepared = { ...flitch, even: evenFaces(flitch.faces) };
    acrossGaps(prepared, asked, reaches);
    inChangedPhotos(prepared, asked, medians);
    if (flitch.acrossKerf)
      kerfs.push([flitch.name, contests(prepared.even, faceFeatures(flitch.faces, { kerf: KERF }))]);
  }
  const rows = [...asked].map(([what, answers]) =>
    what.includes(CHANGED)
      ? againstClean(what, answers, asked.get(CLEAN) ?? [])
      : overFlitches(what, answers, reaches.get(what)),
  );
  return [...rows, ...medianRows(medians), ...weightRows(kerfs)];
}

function acrossGaps({ name, faces, even }: Prepared, asked: Asked, reaches: Map<string, readonly number[]>): void {
  const lit = evenOut(faces.map(({ picture, outline }) => ({ picture: resample(picture, 1), wood: [outline] })));
  const rgb = lit.map((picture, i) => rgbOf(picture, even[i] as EvenFace));
  const lab = even.map(labOf);
  for (const { gap, reach } of GAPS) {
    const features = faceFeatures(faces, { kerf: gap });
    const questions = draw(even, { ...DRAWN, length: SHORT, gap, off: ELSEWHERE, others: true });
    const put = (measure: string, cost: (side: Place, other: Place) => number) =>
      note(asked, `${SHORT} mm, ${gap} mm gone: ${measure}`, name, ask(questions, cost));
    put('ours', ours(features, SHORT));
    reaches.set(`${SHORT} mm, ${gap} mm gone: ours`, reach);
    put('boundary difference, RGB', boundaryDifference(rgb, SHORT));
    put('boundary difference, Lab', boundaryDifference(lab, SHORT));
    put('gradient compatibility, RGB', gradientCompatibility(rgb, SHORT));
    put('gradient compatibility, Lab', gradientCompatibility(lab, SHORT));
    if (gap !== 3) continue;
    for (const [length, least] of [
      [SHORT, 0.86],
      [LONG, 0.94],
    ] as const) {
      const near = draw(even, { ...DRAWN, length, gap, off: NEARBY, others: false });
      if (near.length === 0) continue;
      const what = `${length} mm, ${gap} mm gone, lines 8-25 mm off`;
      note(asked, `${what}: ours`, name, ask(near, ours(features, length)));
      reaches.set(`${what}: ours`, [least]);
      note(asked, `${what}: gradient compatibility, Lab`, name, ask(near, gradientCompatibility(lab, length)));
    }
  }
}

/**
 * The second photo changed: sides that are kept at less y are read from the photos as they were, those at more y from changed ones. Whole faces are
 * changed, not cut ones: a blur, and the one that brings all to equal sharpness, mixes pixels over the kerf, so the blurred row is flattered
 * (it comes out above the clean one) and proves nothing yet.
 */
function inChangedPhotos({ name, faces, even }: Prepared, asked: Asked, medians: [string, string, number][]): void {
  const gap = KERF;
  const questions = draw(even, { ...DRAWN, length: SHORT, gap, off: ELSEWHERE, others: true });
  const clean = faceFeatures(faces, { kerf: gap });
  medians.push(['as it was', name, quantile(blends(clean, questions.slice(0, 100), SHORT, 0), 0.5)]);
  for (const [change, of] of [
    ['in other light', inOtherLight],
    ['blurred by 1 mm', (face: WoodFace) => blurred(face, 1)],
  ] as const) {
    const features = faceFeatures([...faces, ...faces.map(of)], { kerf: gap });
    const what = `${SHORT} mm, ${gap} mm gone, ${CHANGED} ${change}: ours`;
    note(asked, what, name, ask(questions, ours(features, SHORT, faces.length)));
    medians.push([change, name, quantile(blends(features, questions.slice(0, 100), SHORT, faces.length), 0.5)]);
  }
}

const medianRows = (medians: readonly [change: string, name: string, blend: number][]): Row[] =>
  [...new Set(medians.map(([change]) => change))].map((change) => {
    const of = medians.filter(([one]) => one === change);
    return {
      what: `median blend of what goes on, second photo ${change}`,
      n: of.length,
      figure: of.map(([, name, blend]) => `${name} ${two(blend)}`).join(', '),
      reach: '.4 to .6',
      met: of.every(([, , blend]) => blend >= 0.4 && blend <= 0.6),
    };
  });
