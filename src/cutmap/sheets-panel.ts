import { type Bounds, bounds } from '../geometry';
import { seamDoes, seamWord } from '../grain';
import type { FrontReport, PieceReport, SetReport, TapeStep } from '../plan';
import { type Block, heading, paragraph, space } from './blocks';
import { type Group, type Sheet, text } from './drawing';
import { leafBlock } from './leaf-block';
import type { Draft } from './page';
import { drawElevation, drawPanel } from './panel-view';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';
import { enlarged } from './view';

/** Height of the drawing over the text, mm. */
const FIGURE = 66;

/** One panel: how it is laid up, where its leaves are cut, and in what order they are taped. */
export function panelSheets(request: SheetRequest, set: SetReport, front: FrontReport): Draft[] {
  const width = columnWidth(request, 3);
  return textPages(request, {
    name: `${front.id}-panel`,
    title: 'Panel',
    subject: `${front.number}: ${front.name}`,
    columns: 3,
    works: ['leaves', 'dust', 'vacuum press'],
    blocks: [
      ...facts(request, front, width),
      ...tape(request, front, width),
      ...pieces(request, 'Leaves of the face', front.pieces, width),
      ...(front.back.length > 0
        ? pieces(request, 'Leaves of the back, from behind', front.back, width)
        : [
            paragraph('No back is laid: a panel with one veneered face cups.', width, request.typeface, { bold: true }),
          ]),
    ],
    figure: { height: FIGURE, draw: (area) => figure(request, set, front, area) },
  });
}

/** The face, the back, and where the panel stands in its set. */
function figure(request: SheetRequest, set: SetReport, front: FrontReport, area: Bounds) {
  const third = (area.maxX - area.minX) / 3;
  const place = (i: number): Bounds => ({
    minX: area.minX + i * third,
    maxX: area.minX + (i + 1) * third - 4,
    minY: area.minY + 5,
    maxY: area.maxY - 1,
  });
  const named = (i: number, words: string) => text([area.minX + i * third, area.minY + 3], words, { bold: true });
  const face = drawPanel(request, front, place(0));
  const back = front.back.length > 0 ? drawPanel(request, front, place(1), 'back') : null;
  const { groups } = drawElevation(request, set, { ...place(2), minY: area.minY + 9 }, front.id);
  const names: Group = {
    layer: 'SHEET',
    name: 'names',
    elements: [
      named(0, `Face, 1:${face.scale}`),
      ...(back ? [named(1, `Back, from behind, 1:${back.scale}`)] : []),
      named(2, 'Where it stands'),
    ],
  };
  return { groups: [...face.groups, ...(back?.groups ?? []), ...groups, names], scale: face.scale };
}

function facts(request: SheetRequest, front: FrontReport, width: number): Block[] {
  const { typeface } = request;
  const { size, at } = lengthsOf(request.report);
  const { finished, pressed, trimmed, sight, framed } = front;
  const box = bounds(trimmed);
  const seen = bounds(sight);
  const both = (w: number, h: number) => `${at(w)} × ${at(h)}`;
  return [
    paragraph(`Front ${size(finished.width)} wide, ${size(finished.height)} high`, width, typeface, {
      size: 3.5,
      bold: true,
    }),
    paragraph(
      `Pressed ${both(pressed.width, pressed.height)}, trimmed to ${both(box.maxX - box.minX, box.maxY - box.minY)}${
        framed ? `; ${both(seen.maxX - seen.minX, seen.maxY - seen.minY)} are seen between rails and stiles` : ''
      }.`,
      width,
      typeface,
    ),
    ...(front.gaps.length > 0
      ? [
          paragraph(
            `Its grain goes on over the gap to ${front.gaps.length > 1 ? 'panels' : 'panel'} ${front.gaps.map(({ to }) => to).join(', ')}.`,
            width,
            typeface,
          ),
        ]
      : []),
    ...(front.word === null && front.joints.length > 0
      ? [paragraph('No picture tells how its joints will look.', width, typeface)]
      : []),
    paragraph(
      'L: the leaf, by its place in sawing order. Arrows point at its marked end, full where its outer face shows, open where its inner one does.',
      width,
      typeface,
    ),
    space(2),
  ];
}

function pieces(request: SheetRequest, title: string, list: readonly PieceReport[], width: number): Block[] {
  const lengths = lengthsOf(request.report);
  const blocks = list.map((piece) => leafBlock(piece, lengths, width, request.typeface));
  return [heading(title, width, request.typeface), ...blocks, space(2)];
}

function tape(request: SheetRequest, front: FrontReport, width: number): Block[] {
  if (front.taping.length === 0) return [];
  const row = (numbers: readonly number[]) => {
    const inRow = numbers.every((n, i) => i === 0 || n === (numbers[i - 1] as number) + 1);
    if (numbers.length === 1) return `piece ${numbers[0]}`;
    return `pieces ${numbers.length > 2 && inRow ? `${numbers[0]} to ${numbers.at(-1)}` : numbers.join(' + ')}`;
  };
  const steps = front.taping.map((step) => {
    const words = `${row(step.one)}${step.ends ? ', end to end,' : ''} with ${row(step.other)}${looks(front, step)}.`;
    return words.replace(/^./, (first) => first.toUpperCase());
  });
  return [
    heading('Tape, in this order', width, request.typeface),
    ...steps.map((words, i) => paragraph(words, width, request.typeface, { bullet: `${i + 1}`, bold: true })),
    paragraph(
      'Shoot both edges of a joint together: any lean of the plane cancels. Tape across it on the face that shows, every 100 mm, stretched; then along it.',
      width,
      request.typeface,
    ),
    space(2),
  ];
}

/** What the joint that a step closes does, where a picture tells; of several, the weakest. */
function looks({ joints }: FrontReport, { one, other }: TapeStep): string {
  const blends = joints.flatMap(({ between: [a, b], blend }) => {
    const closed = (one.includes(a) && other.includes(b)) || (one.includes(b) && other.includes(a));
    return closed && blend !== null ? [blend] : [];
  });
  if (blends.length === 0) return '';
  const least = Math.min(...blends);
  return `; the ${blends.length > 1 ? 'weakest ' : ''}joint ${seamDoes(seamWord(least))} (${least.toFixed(2)})`;
}

/** Side of the drawing before it is enlarged, mm: letters then stand well over a panel's pieces. */
const DRAWN = 150;

/** A panel for a drawing file, in true size: as pressed, trimmed, its joints and pieces. */
export function panelDrawing(request: SheetRequest, front: FrontReport): Sheet {
  const area = { minX: 0, minY: 0, maxX: DRAWN, maxY: DRAWN };
  const { groups, scale } = drawPanel({ ...request, panels: new Map() }, front, area);
  return {
    name: `${front.id}-panel`,
    title: `${request.report.job.name}: panel ${front.number}, ${front.name}`,
    width: DRAWN * scale,
    height: DRAWN * scale,
    groups: enlarged(groups, scale),
  };
}
