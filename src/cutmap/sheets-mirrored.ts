import type { Bounds, Point, Segment } from '../geometry';
import type { SlabReport } from '../plan';
import { type Column, paragraph, space, table } from './blocks';
import { slabStem } from './file-names';
import { mirrored, type SlabMeasures } from './measures';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { sideways } from './sheets-hand';
import { drawSlab } from './slab-view';
import { columnWidth, textPages } from './text-pages';
import { viewOf } from './view';

const FIGURE_HEIGHT = 62;

const HOW =
  'Turn the slab over about its length: A stays on the left, and what was up is down. The marks are holes, so along and both tapes stay as they were; ' +
  'only in changes its hand. The edges of this face lie elsewhere, since a live edge slopes: check by the ends and from point to point.';

/** The same points for marking from the other face, with the slab as it then lies. */
export function mirroredSheets(request: SheetRequest, slab: SlabReport, measures: SlabMeasures | null): Draft[] {
  if (!measures) return [];
  const { report, typeface } = request;
  const lengths = lengthsOf(report);
  const width = columnWidth(request, 1);
  const turned = turnedOver(slab);
  const flat = mirrored(measures);
  const columns: Column[] = [
    { title: 'point', share: 13, bold: true },
    { title: 'what', share: 36 },
    { title: 'along', share: 24, align: 'right' },
    { title: 'in', share: 26, align: 'right' },
    { title: 'from A', share: 24, align: 'right', bold: true },
    { title: 'from B', share: 24, align: 'right', bold: true },
    { title: '±', share: 16, align: 'right' },
    { title: 'check: to the end', share: 60 },
  ];
  const rows = flat.points
    .filter(({ kind }) => kind !== 'key')
    .map(({ label, what, offsets, tapes, plusMinus, alongside }) => [
      label,
      what,
      lengths.at(offsets.along),
      sideways(offsets.inward, lengths),
      lengths.at(tapes.fromA),
      lengths.at(tapes.fromB),
      lengths.plusMinus(Math.max(plusMinus.fromA, plusMinus.fromB)),
      alongside ? `${alongside.edge} ${lengths.size(alongside.mm)} ${lengths.plusMinus(alongside.plusMinus)}` : '',
    ]);
  return textPages(request, {
    name: `${slabStem(report, slab)}-from-other-face`,
    title: 'Other face',
    subject: slab.name,
    // Without its photo, which shows that face in a frame of its own.
    up: { ...turned, face: slab.face === 'top' ? 'bottom' : 'top', flitch: '' },
    columns: 1,
    works: ['crosscut', 'rip'],
    blocks: [paragraph(HOW, width, typeface), space(1), ...table(columns, rows, width, typeface)],
    figure: {
      height: FIGURE_HEIGHT,
      draw: (area: Bounds) => {
        const inner = { minX: area.minX + 18, maxX: area.maxX - 18, minY: area.minY + 6, maxY: area.maxY - 6 };
        const view = viewOf(turned.outline.outer, inner, { any: true });
        const shown = {
          ...flat,
          datum: over(flat.datum),
          points: flat.points.map((point) => ({ ...point, at: flip(point.at) })),
        };
        return {
          groups: drawSlab(turned, shown, undefined, view, area, 'hand', lengths, typeface).groups,
          scale: null,
        };
      },
    },
  });
}

const flip = ([x, y]: Point<'face'>): Point<'face'> => [x, -y];
const over = ([p, q]: Segment<'face'>): Segment<'face'> => [flip(p), flip(q)];

/** The slab as it lies turned over about its length, with what is drawn of it for the hand. */
function turnedOver(slab: SlabReport): SlabReport {
  const { outline } = slab;
  return {
    ...slab,
    outline: { outer: outline.outer.map(flip), holes: outline.holes.map((hole) => hole.map(flip)) },
    cuts: slab.cuts.map((cut) => ({ ...cut, line: over(cut.line) })),
    blanks: slab.blanks.map((blank) => ({
      ...blank,
      rough: blank.rough.map(flip),
      finished: blank.finished.map(flip),
      jointFront: blank.jointFront && over(blank.jointFront),
      jointBack: blank.jointBack && over(blank.jointBack),
    })),
  };
}
