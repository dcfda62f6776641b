import { NOT_CONFIRMED } from '../job';
import type { InlayPair } from '../keys';
import type { KeyWork, TopReport } from '../plan';
import { formatAngle, formatThin } from '../units';
import { type Block, heading, paragraph, space, table } from './blocks';
import { PROPOSED } from './defect-names';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth } from './text-pages';

/** Tables and words of a top's key sheet, each a run of blocks of one of its columns. */

/** A key as its sheets call it, starred where its crack is only proposed. */
export const keyName = (top: TopReport, i: number): string =>
  `K${i + 1}${top.cracks[top.keys[i]?.crack ?? -1]?.proposed ? PROPOSED : ''}`;

/** The same with the face that it is let into, where that is the under one. */
const keyNameOn = (top: TopReport, i: number): string =>
  `${keyName(top, i)}${top.keys[i]?.face === 'bottom' ? ' under' : ''}`;

/** A crack or a seam as its sheets call it. */
export const crackName = ({ cracks }: TopReport, i: number): string => cracks[i]?.mark ?? '';

const width = (request: SheetRequest): number => columnWidth(request, 2);

/** A paragraph that stays with the table under it. */
const kept = (words: string, request: SheetRequest): Block => ({
  ...paragraph(words, width(request), request.typeface),
  keepWithNext: true,
});

/** Where every key goes, from the datum line: middle and both ends of its axis, so that a square is hardly needed. */
export function placesTable(request: SheetRequest, top: TopReport, { datum, marks }: KeyWork): Block[] {
  if (top.keys.length === 0) return [];
  const { typeface } = request;
  const at = lengthsOf(request.report).at;
  const rows = top.keys.map((key, i) => {
    const { middle, ends } = (marks[i] as KeyWork['marks'][number]).datum;
    return [
      keyNameOn(top, i),
      key.size,
      at(key.depth),
      ...[middle, ...ends].map(({ along, off }) => `${at(along)} / ${at(Math.abs(off))}`),
    ];
  });
  const columns = [
    { title: 'key', share: top.keys.some(({ face }) => face === 'bottom') ? 21 : 12, bold: true },
    { title: 'size', share: 20 },
    { title: 'deep', share: 14, align: 'right', bold: true },
    { title: 'middle', share: 33, align: 'right', bold: true },
    { title: 'one end', share: 32, align: 'right' },
    { title: 'other end', share: 32, align: 'right' },
  ] as const;
  const unit = lengthsOf(request.report).unit;
  return [
    heading('Key places on the finished top', width(request), typeface),
    ...(top.keys.some(({ crack }) => top.cracks[crack]?.proposed)
      ? [kept(`${PROPOSED} on a crack ${NOT_CONFIRMED}: see that it is there`, request)]
      : []),
    kept(
      `Along the ${datum.name} from its left end, as one stands before the top, / square in from it${unit}. For the under face from the same end and edge, carried over.`,
      request,
    ),
    ...table(columns, rows, width(request), typeface),
    space(3),
  ];
}

/** The same from the tips of each key's crack: two tapes, or along the line between the tips and off it. */
export function tipsTable(request: SheetRequest, top: TopReport, { marks, cracks }: KeyWork): Block[] {
  if (top.keys.length === 0) return [];
  const { typeface } = request;
  const at = lengthsOf(request.report).at;
  const rows = top.keys.map((key, i) => {
    const { middle, tapes, leans } = (marks[i] as KeyWork['marks'][number]).tips;
    const crack = cracks[key.crack];
    const tips = key.face === 'bottom' ? (crack?.under ?? crack?.tips) : crack?.tips;
    return [
      keyNameOn(top, i),
      crackName(top, key.crack),
      at(tapes[0]),
      at(tapes[1]),
      at(middle.along),
      offWords(middle.off, tips, at),
      leanWords(leans, tips),
    ];
  });
  const columns = [
    { title: 'key', share: 18, bold: true },
    { title: 'on', share: 9 },
    { title: 'from A', share: 17, align: 'right', bold: true },
    { title: 'from B', share: 17, align: 'right', bold: true },
    { title: 'along A–B', share: 18, align: 'right' },
    { title: 'off it', share: 26, align: 'right' },
    { title: 'back end leans', share: 24, align: 'right' },
  ] as const;
  const open = cracks.flatMap(({ open: [a, b] }, i) => [
    ...(a ? [`${crackName(top, i)} at A`] : []),
    ...(b ? [`${crackName(top, i)} at B`] : []),
  ]);
  const below = top.keys.some(({ crack, face }) => face === 'bottom' && cracks[crack]?.under);
  return [
    heading("The same from the crack's tips", width(request), typeface),
    kept(
      `Two tapes from the tips A and B meet at the middle; or along the line from A to B and square off it.${open.length > 0 ? ` Where it runs out of the top (${open.join(', ')}) the edge is its tip.` : ''}${below ? ' Keys under are measured from the tips of the crack on the under face, A and B carried over from above.' : ''}`,
      request,
    ),
    ...table(columns, rows, width(request), typeface),
    space(3),
  ];
}

/** A distance off the line between the tips with the side it lies on: x runs to the left as one stands before the top, y back. */
function offWords(
  off: number,
  tips: KeyWork['cracks'][number]['tips'] | undefined,
  at: (mm: number) => string,
): string {
  if (!tips || Math.abs(off) < 0.05) return at(0);
  const [[ax, ay], [bx, by]] = tips;
  const [nx, ny] = [-(by - ay) * Math.sign(off), (bx - ax) * Math.sign(off)];
  const side = Math.abs(ny) >= Math.abs(nx) ? (ny > 0 ? 'back' : 'front') : nx > 0 ? 'left' : 'right';
  return `${at(Math.abs(off))} ${side}`;
}

/** How far the end of the axis that lies farther back leans from square, and to which tip. */
function leanWords(leans: number, tips: KeyWork['cracks'][number]['tips'] | undefined): string {
  if (!tips || Math.abs(leans) < 0.05) return 'square';
  // Leaning over 0 the axis's end to the left hand of A to B is the one that leans towards B.
  const leftIsBack = tips[1][0] > tips[0][0];
  return `${formatAngle(Math.abs(leans))} to ${leans > 0 === leftIsBack ? 'B' : 'A'}`;
}

const ML = 1000;

/** What fills the cracks. */
export function fillTable(request: SheetRequest, top: TopReport, work: KeyWork): Block[] {
  const { typeface, job } = request;
  const at = lengthsOf(request.report).at;
  const cracks = work.cracks.flatMap(({ fill }, i) =>
    fill ? [{ fill, own: top.cracks[i], name: crackName(top, i) }] : [],
  );
  if (cracks.length === 0) return [];
  const rows = cracks.map(({ fill, own, name }) => {
    const widest = Math.max(...(own?.line ?? []).map(([, , w]) => w));
    return [
      name,
      own?.called ?? '',
      at(widest),
      fill.depth === null ? 'not known' : at(fill.depth),
      fill.volume === null ? '–' : millilitres(fill.volume),
      fill.litres === null ? '–' : millilitres(fill.litres),
      fill.pours === null ? '–' : String(fill.pours),
    ];
  });
  const columns = [
    { title: 'crack', share: 11, bold: true },
    { title: 'is', share: 22 },
    { title: 'widest', share: 14, align: 'right' },
    { title: 'deep', share: 20, align: 'right' },
    { title: 'holds, ml', share: 17, align: 'right' },
    { title: 'resin, ml', share: 15, align: 'right', bold: true },
    { title: 'pours', share: 12, align: 'right' },
  ] as const;
  const known = cracks.flatMap(({ fill }) => (fill.litres === null ? [] : [fill.litres]));
  const kg = cracks.reduce((sum, { fill }) => sum + (fill.kg ?? 0), 0);
  const unknown = cracks.filter(({ fill }) => fill.depth === null);
  const per10 = unknown.reduce((sum, { fill }) => sum + fill.area * 10, 0) / 1e6;
  const pour = job.shop.resin?.pour ?? null;
  return [
    heading('Cracks and what fills them', width(request), typeface),
    ...table(columns, rows, width(request), typeface),
    space(1),
    ...[
      ...(known.length > 0
        ? [
            `Resin ${millilitres(known.reduce((a, b) => a + b, 0))} ml in all, about ${Math.max(1, Math.round(kg * ML))} g, what soaks in and is lost counted. Fill before the pockets are cut.`,
          ]
        : []),
      ...(unknown.length > 0
        ? [
            `Where the depth is not known nothing is assumed: feel it with a thin wire. Every ${at(10)}${request.report.job.units === 'mm' ? ' mm' : ''} of it holds ${millilitres(per10)} ml.`,
          ]
        : []),
      pour === null
        ? "How deep one pour may be is on its maker's sheet, and no other figure counts; a through crack is dammed from below."
        : `At most ${at(pour)} a pour, as the shop has it of its maker's sheet; a through crack is dammed from below.`,
    ].map((words) => paragraph(words, width(request), typeface)),
    space(3),
  ];
}

/** Litres as millilitres: whole ones from ten up. */
const millilitres = (litres: number): string => {
  const ml = litres * ML;
  return ml >= 10 ? ml.toFixed(0) : ml.toFixed(1);
};

/** Less than this over the pocket, mm, a key drops in. */
const NOTHING = 0.01;

/** A gap as measured: one figure where all sides show the same. */
function gapWords({ least, most }: InlayPair['gap'], thin: (mm: number) => string): string {
  return thin(least) === thin(most) ? thin(least) : `${thin(least)} to ${thin(most)}`;
}

/** How each size is made, and what cannot be made so. */
export function sizesWords(request: SheetRequest, { sizes }: KeyWork): Block[] {
  const { typeface, job, report } = request;
  const { units } = report.job;
  const lengths = lengthsOf(report);
  const unit = units === 'mm' ? ' mm' : '';
  const say = (mm: number): string => `${lengths.at(mm)}${unit}`;
  const thin = (mm: number): string => formatThin(mm, units);
  const { router } = job.shop;
  return sizes.flatMap(({ size, count, depths, template, inlay, taper }) => {
    const plain = [
      `Pocket: template stands off ${say(template.offset)} all round for a ${say(router.bushing)} bushing and a ${say(router.bit)} bit. The bit leaves ${say(template.corner)} of each side round at a corner: the chisel squares it.`,
      ...(template.fuller >= 0.05
        ? [
            `At the waist the bushing rolls round the template's point, so the pocket is ${thin(template.fuller)} fuller a side there: leave the key's waist as much fuller.`,
          ]
        : []),
    ];
    const words = [
      ...(template.follows ? plain : []),
      ...(inlay && inlay.problems.length === 0
        ? [
            `Key and pocket from one template: key with the bare bushing, pocket with the ${say(router.collar ?? 0)} collar on it. The gap comes out ${gapWords(inlay.gap, thin)} on every side once the corners are pared.`,
          ]
        : []),
      taper.wider > 0
        ? `Sides lean out to the face: foot ${thin(taper.wider)} narrower than the face on every side${taper.over >= NOTHING ? `, the face ${thin(taper.over)} full; it binds ${say(taper.binds)} before it is home` : '; it drops in without binding'}. Leave it proud, plane it off when the glue is dry.`
        : 'Sides stand upright: it drops in with the gap all round.',
    ];
    const stops = [...template.problems, ...(inlay?.problems ?? [])];
    return [
      heading(
        `${size.id}: ${count} × ${lengths.at(size.length)} long, ${depths.map(lengths.at).join(' and ')} deep`,
        width(request),
        typeface,
      ),
      ...stops.map((line) => paragraph(line, width(request), typeface, { bullet: '!', bold: true })),
      ...words.map((line) => paragraph(line, width(request), typeface, { bullet: '–' })),
      space(2),
    ];
  });
}
