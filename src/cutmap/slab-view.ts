import { type Bounds, bounds, centroid, type Point } from '../geometry';
import { pieceName, type SlabReport } from '../plan';
import { farNames, ownNames, PROPOSED } from './defect-names';
import { drawDefect, drawFarDefect } from './defect-view';
import { type Element, type Group, path, ring } from './drawing';
import { drawLabel, type Label, placeLabels } from './labels';
import { crossMark, dimension, grainArrow } from './linework';
import { nameOf, type SlabMeasures } from './measures';
import type { LaidPicture, Lengths } from './request';
import { onWood } from './spots';
import { type Typeface, textBounds } from './text';
import { laid, onPaper, pointOnPaper, type View } from './view';

/** How much of a slab is drawn: the few things for the hand, or all. */
export type Detail = 'hand' | 'full';

/** A slab laid in a view, and what could not be labelled in it. */
export interface SlabDrawing {
  readonly groups: readonly Group[];
  readonly unlabelled: readonly Label[];
}

/**
 * A slab as line work over its ghosted photo, one group a layer.
 * @param area labels stay inside it
 */
export function drawSlab(
  slab: SlabReport,
  measures: SlabMeasures | null,
  picture: LaidPicture | undefined,
  view: View<'face'>,
  area: Bounds,
  detail: Detail,
  lengths: Lengths,
  typeface: Typeface,
): SlabDrawing {
  const outline = onPaper(view, slab.outline.outer);
  const groups: Group[] = [];
  if (picture) {
    const opacity = detail === 'hand' ? 0.6 : 0.4;
    groups.push({ layer: 'PHOTO', name: 'photo', clip: outline, elements: [laid(picture, view, opacity)] });
  }
  groups.push({
    layer: 'OUTLINE',
    name: 'outline',
    elements: [ring(outline, 'outline'), ...slab.outline.holes.map((hole) => ring(onPaper(view, hole), 'outline'))],
  });
  const full = detail === 'full';
  if (full) groups.push(...fullWork(slab, view));
  const jointed = full || (measures?.points.some(({ kind }) => kind === 'joint') ?? false);
  groups.push(...cutWork(slab, view, full, jointed));
  const dimensions = full ? [...overall(slab, view, lengths), ...grain(slab, view)] : [];
  const marks = measures ? markWork(measures, view) : [];
  groups.push({ layer: 'DATUM', name: 'marks', elements: marks });
  const labels = labelsOf(slab, measures, view, full);
  const taken = [...dimensions, ...marks].flatMap((element) =>
    element.is === 'text' ? [textBounds(element, typeface)] : [],
  );
  const { placed, refused } = placeLabels(labels, area, taken, typeface);
  groups.push({
    layer: 'MEASURE',
    name: 'dimensions and labels',
    elements: [...dimensions, ...placed.flatMap(drawLabel)],
  });
  return { groups: groups.filter((group) => group.elements.length > 0), unlabelled: refused };
}

/** Defects, offcuts and keys. */
function fullWork(slab: SlabReport, view: View<'face'>): Group[] {
  return [
    {
      layer: 'OFFCUT',
      name: 'offcuts',
      elements: slab.offcuts.flatMap(({ polygon, pieces }) =>
        [polygon, ...pieces.map((piece) => piece.polygon)].map((each) => ring(onPaper(view, each), 'offcut')),
      ),
    },
    { layer: 'DEFECT', name: 'defects', elements: slab.defects.flatMap((defect) => drawDefect(defect, view)) },
    {
      layer: 'DEFECT',
      name: 'defects of the other face',
      elements: slab.farDefects.flatMap(({ defect }) => drawFarDefect(defect, view)),
    },
    {
      layer: 'POCKET',
      name: 'keys',
      elements: slab.keys.map((key) => ring(onPaper(view, key.outline), 'pocket', 'paper')),
    },
  ];
}

function cutWork(slab: SlabReport, view: View<'face'>, full: boolean, jointed: boolean): Group[] {
  const rough = slab.cuts.filter((cut) => cut.stage === 'rough');
  const joints = slab.blanks.flatMap((blank) => [blank.jointFront, blank.jointBack].filter((line) => line !== null));
  return [
    {
      layer: 'FINISHED',
      name: 'finished pieces',
      elements: slab.blanks.map((blank) => ring(onPaper(view, blank.finished), 'finished')),
    },
    {
      layer: 'ROUGH',
      name: 'rough cuts',
      elements: [
        ...(full ? slab.blanks.map((blank) => ring(onPaper(view, blank.rough), 'rough')) : []),
        ...rough.map((cut) => path(onPaper(view, cut.line), 'rough')),
      ],
    },
    {
      layer: 'JOINT',
      name: 'joint lines',
      elements: jointed ? joints.map((line) => path(onPaper(view, line), 'joint')) : [],
    },
  ];
}

/** The chalk line with its two marks, and a cross at every point that is taped. */
function markWork({ datum, points }: SlabMeasures, view: View<'face'>): Element[] {
  const [a, b] = onPaper(view, datum) as [Point<'paper'>, Point<'paper'>];
  const shown = points.filter((point) => point.kind !== 'key');
  return [
    path([a, b], 'datum'),
    ...crossMark(a, 1.3, 'datum'),
    ...crossMark(b, 1.3, 'datum'),
    ...shown.flatMap((point) =>
      crossMark(pointOnPaper(view, point.at), 0.8, point.kind === 'cut' ? 'rough' : 'measure'),
    ),
  ];
}

/** Greatest length and width of the slab. */
function overall(slab: SlabReport, view: View<'face'>, lengths: Lengths): Element[] {
  const { minX, minY, maxX, maxY } = bounds(slab.outline.outer);
  const corner = (x: number, y: number): Point<'paper'> => pointOnPaper(view, [x, y]);
  return [
    ...dimension(corner(minX, minY), corner(maxX, minY), 6, lengths.size(maxX - minX)),
    ...dimension(corner(minX, maxY), corner(minX, minY), 6, lengths.size(maxY - minY)),
  ];
}

/** The way of the grain, under the slab's left end. */
function grain({ outline, grainDegrees }: SlabReport, view: View<'face'>): Element[] {
  const { minX, maxY } = bounds(outline.outer);
  const [x, y] = pointOnPaper(view, [minX, maxY]);
  return grainArrow([x + 8, y + 3], grainDegrees);
}

function labelsOf(slab: SlabReport, measures: SlabMeasures | null, view: View<'face'>, full: boolean): Label[] {
  const labels: Label[] = [];
  const size = full ? 2.5 : 4;
  if (measures) {
    const [a, b] = onPaper(view, measures.datum) as [Point<'paper'>, Point<'paper'>];
    labels.push({ text: 'A', at: a, shape: 'round', bold: true, size: size + 0.5, gap: 1.6 });
    labels.push({ text: 'B', at: b, shape: 'round', bold: true, size: size + 0.5, gap: 1.6 });
    for (const point of measures.points) {
      if (point.kind === 'key') continue;
      labels.push({ text: point.label, at: pointOnPaper(view, point.at), shape: 'tag', bold: true, size, gap: 1.2 });
    }
  }
  // On a page for the hand the cuts of its own points, where it has some.
  const named = full ? [] : (measures?.points.flatMap(({ cuts }) => cuts) ?? []);
  for (const cut of slab.cuts) {
    if (cut.stage !== 'rough' || (named.length > 0 && !named.includes(cut.number))) continue;
    const span = onWood(cut.line, slab.outline) ?? cut.line;
    const end = cut.kind === 'crosscut' ? span[0] : span[1];
    labels.push({ text: `cut ${cut.number}`, at: pointOnPaper(view, end), shape: 'cut', bold: true, size, gap: 3 });
  }
  for (const blank of slab.blanks) {
    labels.push({
      text: nameOf(blank),
      at: pointOnPaper(view, centroid(blank.finished)),
      shape: 'plain',
      bold: true,
      size,
      gap: 0.1,
    });
  }
  if (!full) return labels;
  for (const key of slab.keys) {
    labels.push({
      text: `K${key.number}${key.proposed ? PROPOSED : ''}`,
      at: pointOnPaper(view, centroid(key.outline)),
      shape: 'tag',
      gap: 2.5,
    });
  }
  for (const { name, defect } of [...ownNames(slab), ...farNames(slab)]) {
    const middle = defect.line?.[Math.floor(defect.line.length / 2)];
    const at: Point<'face'> = defect.polygon ? centroid(defect.polygon) : [middle?.[0] ?? 0, middle?.[1] ?? 0];
    labels.push({ text: name, at: pointOnPaper(view, at), shape: 'round', gap: 1.5 });
  }
  slab.offcuts.forEach(({ pieces }, i) => {
    pieces.forEach(({ polygon }, k) => {
      const at = pointOnPaper(view, centroid(polygon));
      labels.push({ text: pieceName(i, k, pieces.length), at, shape: 'plain', gap: 0.1 });
    });
  });
  return labels;
}
