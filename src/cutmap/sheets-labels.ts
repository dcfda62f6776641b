import type { Point } from '../geometry';
import { pieceName } from '../plan';
import { findSpecies } from '../wood';
import { codeMark } from './code-mark';
import { box, type Element, path, text } from './drawing';
import { grainArrow } from './linework';
import { nameOf } from './measures';
import { contentArea, type Draft, laidOut, sheetGroup } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { shorten } from './text';

/** Labels across and down a sheet. */
const [ACROSS, DOWN] = [3, 4];
/** Side of a label's code, mm: cells of half a millimetre, which a phone reads and a home printer prints (tried, not a standard). */
const CODE = 24;
const PAD = 3;

/** What a label says: its name, and lines under it; the arrow goes with pieces that have a front. */
interface Label {
  readonly name: string;
  readonly lines: readonly string[];
  readonly arrow: 'front' | 'grain';
}

/** Labels to be cut out and stuck on: one for every blank, then one for every clear piece of an offcut that is worth its place in the rack. */
export function blankLabels(request: SheetRequest): Draft[] {
  const labels = [...blanks(request), ...offcuts(request)];
  const each = ACROSS * DOWN;
  const pages = Math.ceil(labels.length / each);
  return Array.from({ length: pages }, (_, page) => ({
    name: pages > 1 ? `labels-${page + 1}` : 'labels',
    title: pages > 1 ? `Labels ${page + 1}/${pages}` : 'Labels',
    subject: 'blanks and offcuts',
    scale: null,
    size: laidOut(request.paper),
    groups: [
      sheetGroup(
        'labels',
        labels.slice(page * each, (page + 1) * each).flatMap((label, i) => drawn(request, label, i)),
      ),
    ],
  }));
}

function blanks({ report }: SheetRequest): Label[] {
  const lengths = lengthsOf(report);
  const unit = report.job.units === 'mm' ? ' mm' : '';
  const size = ([length, width]: readonly [number, number]): string =>
    `${lengths.size(length)} × ${lengths.size(width)}${unit}`;
  return report.slabs.flatMap((slab) =>
    slab.blanks.map((blank) => ({
      name: nameOf(blank),
      arrow: 'front' as const,
      lines: [
        `${slab.name}, ${slab.face === 'top' ? 'upper' : 'under'} face`,
        `rough ${size(blank.roughSize)}`,
        `finished ${size(blank.finishedSize)}`,
        `${lengths.size(blank.wanted)}${unit} thick`,
      ],
    })),
  );
}

function offcuts({ report, job }: SheetRequest): Label[] {
  const lengths = lengthsOf(report);
  const unit = report.job.units === 'mm' ? ' mm' : '';
  return report.slabs.flatMap((slab) => {
    const flitch = job.flitches[slab.flitch];
    return slab.offcuts.flatMap(({ pieces }, i) =>
      pieces.map(({ size: [length, width], thickness }, k) => ({
        name: `${slab.name} ${pieceName(i, k, pieces.length)}`,
        arrow: 'grain' as const,
        lines: [
          flitch ? `${findSpecies(flitch.species)?.name ?? flitch.species}, ${flitch.name}` : slab.name,
          `clear ${lengths.size(length)} × ${lengths.size(width)}${unit}`,
          thickness === null ? 'not read' : `finishes at ${lengths.size(Math.max(0, thickness.finished))}${unit}`,
        ],
      })),
    );
  });
}

function drawn({ paper, typeface, report }: SheetRequest, { name, lines, arrow }: Label, i: number): Element[] {
  const { minX, minY, maxX, maxY } = contentArea(paper);
  const [width, height] = [(maxX - minX) / ACROSS, (maxY - minY) / DOWN];
  const [x, y] = [minX + (i % ACROSS) * width, minY + Math.floor(i / ACROSS) * height];
  const print = (words: string, room: number, size: number, bold: boolean) =>
    shorten(typeface.printable(words), room, size, bold, typeface);
  const room = width - 2 * PAD;
  const beside = room - CODE;
  const coded = [report.job.name.slice(0, 60), name, ...lines].map((line) => typeface.printable(line)).join('\n');
  const foot = y + height - PAD;
  return [
    box(x, y, width, height, 'rule'),
    text([x + PAD, y + 8.5], print(name, room, 5, true), { size: 5, bold: true }),
    ...lines.map((line, k) => text([x + PAD, y + 14 + 5 * k], print(line, beside, 2.8, false), { size: 2.8 })),
    ...codeMark(coded, x + width - CODE - 1, foot - CODE + 1.5, CODE),
    ...pointer(arrow, [x + PAD, foot]),
    text([x + PAD + 27, foot], print(report.job.name, beside - 27, 2.5, false), { ink: 'grey' }),
  ];
}

/** Which way the front of the top lies, or how the grain runs, once the label is stuck on so. */
function pointer(arrow: Label['arrow'], [x, y]: Point<'paper'>): Element[] {
  if (arrow === 'grain') return grainArrow([x + 7, y - 1], 0);
  return [
    path(
      [
        [x + 2, y - 4.5],
        [x + 2, y],
      ],
      'frame',
    ),
    path(
      [
        [x + 0.6, y - 1.8],
        [x + 2, y],
        [x + 3.4, y - 1.8],
      ],
      'frame',
    ),
    text([x + 5, y], 'front'),
  ];
}
