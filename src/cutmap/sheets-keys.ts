import { type Bounds, bounds, type Point } from '../geometry';
import type { KeyWork, TopReport } from '../plan';
import { blanksDrawing } from './blanks-drawing';
import { type Block, heading, paragraph, space } from './blocks';
import type { Element, Group, Sheet } from './drawing';
import { path, ring } from './drawing';
import { topStem } from './file-names';
import { crackName, fillTable, keyName, placesTable, sizesWords, tipsTable } from './key-tables';
import { TEMPLATE_WORKS, templatePages, templatesTogether } from './key-templates';
import { drawLabel, type Label, placeLabels } from './labels';
import { crossMark } from './linework';
import type { Draft } from './page';
import type { SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';
import { tiles } from './tiles';
import { drawTop } from './top-view';
import { onPaper, pointOnPaper, type View } from './view';

/** Where the keys of a top go, how deep, what fills the cracks and how all is made; after it paper keys, pockets and templates in full size. */
export function keySheets(request: SheetRequest, top: TopReport): Draft[] {
  const { keyWork } = top;
  if (!keyWork || (top.keys.length === 0 && top.keysRefused.length === 0)) return [];
  const { typeface } = request;
  const list = textPages(request, {
    name: `${topStem(request.report, top)}-keys`,
    title: 'Keys',
    subject: top.name,
    up: top,
    columns: 2,
    works: ['keys', 'router template', 'chisel', 'epoxy', 'dust'],
    blocks: [
      ...warnings(request, top),
      ...steps(request, top),
      ...placesTable(request, top, keyWork),
      ...tipsTable(request, top, keyWork),
      ...fillTable(request, top, keyWork),
      ...sizesWords(request, keyWork),
      ...blanks(request, top),
      ...refusals(request, top),
    ],
    figure: {
      height: 68,
      draw: (area) => {
        const { groups, view, taken } = drawTop(request, top, area, 'drawing');
        const near = Math.max(3, 40 / view.scale);
        const { placed } = placeLabels(
          [
            ...top.keys.map((key, i): Label => {
              return { text: keyName(top, i), at: pointOnPaper(view, key.at), shape: 'tag', bold: true, gap: near };
            }),
            ...keyWork.cracks.flatMap(({ tips: [a, b] }, i) => [
              tipLabel(view, a, `${crackName(top, i)} A`),
              tipLabel(view, b, `${crackName(top, i)} B`),
            ]),
          ],
          area,
          [
            ...taken,
            ...keyWork.cracks.flatMap(({ tips }) => tips.map((tip) => around(pointOnPaper(view, tip)))),
            ...top.keys.map(({ outline }) => bounds(onPaper(view, outline))),
          ],
          typeface,
        );
        const labels: Group = { layer: 'MEASURE', name: 'labels', elements: placed.flatMap(drawLabel) };
        return { groups: [...groups, ...keysOn(top, keyWork, view), labels], scale: view.scale };
      },
    },
  });
  return [...list, ...templateSheets(request, top, keyWork)];
}

/** Room that a tip's cross takes, so that no label hides it. */
const around = ([x, y]: Point<'paper'>): Bounds => ({ minX: x - 1.4, maxX: x + 1.4, minY: y - 1.4, maxY: y + 1.4 });

const tipLabel = (view: View<'top'>, tip: KeyWork['datum']['line'][number], text: string): Label => ({
  text,
  at: pointOnPaper(view, tip),
  shape: 'plain',
});

/** Keys, tips and the datum line, on the top as it is drawn. */
function keysOn(top: TopReport, { datum, cracks }: KeyWork, view: View<'top'>): Group[] {
  return [
    { layer: 'DATUM', name: 'datum line', elements: [path(onPaper(view, datum.line), 'datum')] },
    {
      layer: 'KEY',
      name: 'keys',
      elements: top.keys.map(({ face, outline }) => keyOn(onPaper(view, outline), face)),
    },
    {
      layer: 'DEFECT',
      name: 'cracks on the under face',
      elements: top.cracks.flatMap(({ far }) =>
        far
          ? [
              path(
                onPaper(
                  view,
                  far.map(([x, y]) => [x, y]),
                ),
                'below',
              ),
            ]
          : [],
      ),
    },
    {
      layer: 'MEASURE',
      name: 'tips of the cracks',
      elements: cracks.flatMap(({ tips }) => tips.flatMap((tip) => crossMark(pointOnPaper(view, tip), 0.8, 'measure'))),
    },
  ];
}

/** A key as it is seen from above: of one in the under face the dashed edge, with nothing in it. */
const keyOn = (outline: readonly Point<'paper'>[], face: 'top' | 'bottom'): Element =>
  face === 'top' ? ring(outline, 'pocket', 'paper') : ring(outline, 'below');

/** What is to be known before a pocket is cut. */
function warnings(request: SheetRequest, top: TopReport): Block[] {
  const width = columnWidth(request, 2);
  return [
    ...(top.keyWork?.notes ?? []).map((words) =>
      paragraph(words, width, request.typeface, { bullet: '!', bold: true }),
    ),
    space(2),
  ];
}

/** Where the key wood comes from: for all tops of the plan together. */
function blanks(request: SheetRequest, top: TopReport): Block[] {
  const { report, typeface } = request;
  const width = columnWidth(request, 2);
  const own = report.keyBlanks.filter(({ tops }) => tops.includes(top.id));
  if (own.length === 0) return [];
  const all = new Set(own.flatMap(({ tops }) => tops)).size > 1 ? ' for all tops' : '';
  return [
    heading(`Key blanks${all}, grain along the key`, width, typeface),
    ...own.flatMap(({ words, plan }) => [
      ...words.map((line) => paragraph(line, width, typeface, { bullet: '–' })),
      ...plan.uses.flatMap((use) => [space(1.5), blanksDrawing(use, width, typeface)]),
    ]),
    space(3),
  ];
}

function refusals(request: SheetRequest, top: TopReport): Block[] {
  if (top.keysRefused.length === 0) return [];
  const width = columnWidth(request, 2);
  const named = (id: string): string => {
    const i = top.cracks.findIndex((crack) => crack.id === id);
    return i < 0 ? id : crackName(top, i);
  };
  return [
    heading('Where no key stands', width, request.typeface),
    ...top.keysRefused.map(({ crack, reason }) =>
      paragraph(`${named(crack)}: ${reason}`, width, request.typeface, { bullet: '–' }),
    ),
    space(3),
  ];
}

function steps(request: SheetRequest, top: TopReport): Block[] {
  if (top.keys.length === 0) return [];
  const width = columnWidth(request, 2);
  const under = top.keys.filter(({ face }) => face === 'bottom').map(({ crack }) => top.cracks[crack]);
  const cracked = top.cracks.some(({ seam }) => !seam);
  return [
    heading('How', width, request.typeface),
    ...[
      `Flatten first: depths count from the finished face.${cracked ? ' Clean the crack out, fill it, level it.' : ' Glue the seam up and level it.'}`,
      "The key's grain runs along its length, across the crack or the seam; its waist lies on it. Stick the paper key on to see how it looks.",
      'Knife round the key itself, number it and its pocket, rout inside the line, and pare the corners and the last of the sides to the knife line.',
      ...(under.some((crack) => !crack?.far)
        ? ['Keys of the under face stand under those of the upper one: turn the top over, carry the axes round.']
        : []),
      ...(under.some((crack) => crack?.far)
        ? [
            'Where the crack was traced on the under face as well, its keys there stand on that trace, each as its table says.',
          ]
        : []),
    ].map((words, i) => paragraph(words, width, request.typeface, { bullet: `${i + 1}` })),
    space(3),
  ];
}

function templateSheets(request: SheetRequest, top: TopReport, work: KeyWork): Draft[] {
  const pages = templatePages(request, work);
  return pages.flatMap((drawing, i) => {
    const [suffix, part] = pages.length > 1 ? [`-${i + 1}`, ` ${i + 1}/${pages.length}`] : ['', ''];
    const about = {
      name: `${topStem(request.report, top)}-templates${suffix}`,
      title: `Templates${part}`,
      subject: top.name,
    };
    return tiles(request, drawing, about, TEMPLATE_WORKS);
  });
}

/** The same templates for a drawing file; null where the top has none. */
export function templateDrawing(request: SheetRequest, top: TopReport): Sheet | null {
  const drawing = top.keyWork && templatesTogether(request, top.keyWork);
  return (
    drawing && {
      ...drawing,
      name: `${topStem(request.report, top)}-templates`,
      title: `${request.report.job.name}: templates of ${top.name}`,
    }
  );
}
