import { type Affine, apply, bounds, compose, type Point, rigid } from '../geometry';
import { NOT_CONFIRMED } from '../job';
import type { TopReport } from '../plan';
import { formatAngle } from '../units';
import { type Block, heading, paragraph, space, table } from './blocks';
import { PROPOSED } from './defect-names';
import { type Element, type Group, path, ring, type Sheet, text } from './drawing';
import { drawLabel, placeLabels } from './labels';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';
import { type TrueSize, tileGrid, tiles } from './tiles';
import { drawTop } from './top-view';
import { onPaper, pointOnPaper } from './view';

type PlacedKey = TopReport['keys'][number];

/** Where the keys of a top go, and how deep; after it the router templates in full size. */
export function keySheets(request: SheetRequest, top: TopReport): Draft[] {
  if (top.keys.length === 0 && top.keysRefused.length === 0) return [];
  const { typeface } = request;
  const width = columnWidth(request, 2);
  const list = textPages(request, {
    name: `${top.id}-keys`,
    title: 'Keys',
    subject: top.name,
    columns: 2,
    works: ['keys', 'router template', 'epoxy'],
    blocks: [...keyTable(request, top), ...refusals(request, top), ...steps(request, width, typeface)],
    figure: {
      height: 80,
      draw: (area) => {
        const { groups, view, taken } = drawTop(request, top, area, 'drawing');
        const keys: Group = {
          layer: 'POCKET',
          name: 'keys',
          elements: top.keys.map((key) => ring(onPaper(view, key.outline), 'pocket', 'paper')),
        };
        const { placed } = placeLabels(
          top.keys.map((key, i) => ({
            text: keyName(top, i),
            at: pointOnPaper(view, key.at),
            shape: 'tag' as const,
            bold: true,
            gap: Math.max(3, 40 / view.scale),
          })),
          area,
          taken,
          typeface,
        );
        const labels: Group = { layer: 'MEASURE', name: 'labels', elements: placed.flatMap(drawLabel) };
        return { groups: [...groups, keys, labels], scale: view.scale };
      },
    },
  });
  return [...list, ...templateSheets(request, top)];
}

function keyTable(request: SheetRequest, top: TopReport): Block[] {
  const lengths = lengthsOf(request.report);
  const width = columnWidth(request, 2);
  const rows = top.keys.map((key, i) => [
    keyName(top, i),
    key.face === 'top' ? 'upper' : 'under',
    key.size,
    lengths.at(key.depth),
    lengths.at(top.size.length - key.at[0]),
    lengths.at(key.at[1]),
    formatAngle(key.angle),
  ]);
  const columns = [
    { title: 'key', share: 12, bold: true },
    { title: 'face', share: 15 },
    { title: 'size', share: 18 },
    { title: 'pocket deep', share: 18, align: 'right', bold: true },
    { title: 'from left end', share: 22, align: 'right' },
    { title: 'from front line', share: 24, align: 'right' },
    { title: 'turned', share: 17, align: 'right' },
  ] as const;
  return [
    heading('Key places on the finished top', width, request.typeface),
    ...(top.keys.some(({ crack }) => top.cracks[crack]?.proposed)
      ? [paragraph(`${PROPOSED} on a crack ${NOT_CONFIRMED}: see that it is there`, width, request.typeface)]
      : []),
    ...table(columns, rows, width, request.typeface),
    space(3),
  ];
}

/** A key as its sheets call it, starred where its crack is only proposed. */
const keyName = (top: TopReport, i: number): string =>
  `K${i + 1}${top.cracks[top.keys[i]?.crack ?? -1]?.proposed ? PROPOSED : ''}`;

function refusals(request: SheetRequest, top: TopReport): Block[] {
  if (top.keysRefused.length === 0) return [];
  const width = columnWidth(request, 2);
  return [
    heading('Cracks without a key', width, request.typeface),
    ...top.keysRefused.map(({ crack, reason }) =>
      paragraph(`${crack}: ${reason}`, width, request.typeface, { bullet: '–' }),
    ),
    space(3),
  ];
}

function steps(request: SheetRequest, width: number, typeface: SheetRequest['typeface']): Block[] {
  const { bushing, bit } = request.job.shop.router;
  const lengths = lengthsOf(request.report);
  return [
    heading('How', width, typeface),
    ...[
      `Templates are drawn for a ${lengths.at(bushing)} bushing with a ${lengths.at(bit)} bit. Cut the opening to the line.`,
      "The key's grain runs along its length, across the crack; its waist lies on the crack.",
      'The chisel squares the corners that the bit leaves round.',
    ].map((words, i) => paragraph(words, width, typeface, { bullet: `${i + 1}` })),
  ];
}

const TEMPLATE_WORKS = ['router template', 'dust'] as const;
const GAP = 8;
const CAPTION = 9;

/** One true-size template for each key size that the top uses, set in rows no wider than a sheet; null without a router. */
function templatesOf(request: SheetRequest, top: TopReport): TrueSize | null {
  const first = new Map<string, PlacedKey>();
  for (const key of top.keys) if (key.template && !first.has(key.size)) first.set(key.size, key);
  if (first.size === 0) return null;
  const { tile } = tileGrid({ width: 0, height: 0 }, request, TEMPLATE_WORKS);
  const groups: Group[] = [];
  let [x, y, rowHeight, width] = [0, 0, 0, 0];
  for (const key of first.values()) {
    const one = template(request, key);
    if (x > 0 && x + one.width > tile.width) [x, y, rowHeight] = [0, y + rowHeight + GAP, 0];
    groups.push(...one.at(x, y));
    x += one.width + GAP;
    width = Math.max(width, x - GAP);
    rowHeight = Math.max(rowHeight, one.height);
  }
  return { width, height: y + rowHeight, groups };
}

function templateSheets(request: SheetRequest, top: TopReport): Draft[] {
  const drawing = templatesOf(request, top);
  const about = { name: `${top.id}-templates`, title: 'Templates', subject: top.name };
  return drawing ? tiles(request, drawing, about, TEMPLATE_WORKS) : [];
}

/** The same templates for a drawing file; null where the top has none. */
export function templateDrawing(request: SheetRequest, top: TopReport): Sheet | null {
  const drawing = templatesOf(request, top);
  return (
    drawing && {
      ...drawing,
      name: `${top.id}-templates`,
      title: `${request.report.job.name}: templates of ${top.name}`,
    }
  );
}

/** A key's template laid along x: the opening, the pocket inside it, the crack's line across its waist. */
function template(request: SheetRequest, key: PlacedKey) {
  const lengths = lengthsOf(request.report);
  const { bushing, bit } = request.job.shop.router;
  const level = compose<'top', 'top', 'paper'>(rigid(-key.angle, 0, 0), { m: [1, 0, 0, 1, -key.at[0], -key.at[1]] });
  const opening = (key.template ?? key.outline).map((p) => apply(level, p));
  const { minX, minY, maxX, maxY } = bounds(opening);
  const words = [
    `${key.size}: opening ${lengths.at(maxX - minX)} × ${lengths.at(maxY - minY)}`,
    `bushing ${lengths.at(bushing)}, bit ${lengths.at(bit)}`,
  ];
  const width = Math.max(maxX - minX, ...words.map((line) => request.typeface.measure(line, 2.5, false))) + 2;
  return {
    width,
    height: maxY - minY + CAPTION + 2,
    at: (x: number, y: number): Group[] => {
      const shift: Affine<'paper', 'paper'> = { m: [1, 0, 0, 1, x - minX + 1, y - minY + 1 + CAPTION] };
      const put = (p: Point<'paper'>): Point<'paper'> => apply(shift, p);
      const laid = (points: readonly Point<'top'>[]): Point<'paper'>[] => points.map((p) => put(apply(level, p)));
      const centre: Element[] = [
        path([put([minX - 1, 0]), put([maxX + 1, 0])], 'measure'),
        path([put([0, minY - 1]), put([0, maxY + 1])], 'measure'),
      ];
      return [
        { layer: 'TEMPLATE', name: `template ${key.size}`, elements: [ring(opening.map(put), 'template')] },
        {
          layer: 'POCKET',
          name: `pocket ${key.size}`,
          elements: [ring(laid(key.outline), 'offcut'), ring(laid(key.pocket), 'pocket')],
        },
        {
          layer: 'MEASURE',
          name: 'centre lines',
          elements: [...centre, ...words.map((line, i) => text([x + 1, y + 3 + i * 4.2], line))],
        },
      ];
    },
  };
}
