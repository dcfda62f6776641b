import type { Point } from '../../../../geometry';
import type { ReferenceDraft, RodDraft } from '../../../../job';
import { nextRod } from './draft';
import { nextTap, TAPS, tapsOf } from './slab-taps';

/** The spots that were placed on a photo by hand: known points, the ends, marks and corners of rods, where the slab itself was taped. Pure. */

/** One of them; `id` says what it is, `text` stands beside it on the photo, `says` names it in a sentence. */
export interface PlacedSpot {
  readonly id: string;
  readonly px: Point<'photo'>;
  readonly text: string;
  readonly says: string;
}

/** What the next tap on the photo sets, where it is not simply the next point or the next end of a rod. */
export interface Aim {
  readonly rod: number;
  readonly part: 'mark' | 'corner';
}

const PARTS = ['end', 'mark', 'corner'] as const;
type Part = (typeof PARTS)[number];

export const pointId = (i: number) => `point#${i}`;
export const tapId = (i: number) => `tap#${i}`;
export const rodSpotId = (rod: number, part: Part, k: number) => `rod#${rod}/${part}#${k}`;

/** A finger is not surer than a tenth of a pixel, and nobody wants to read more digits. */
export const tenths = ([x, y]: Point<'photo'>): Point<'photo'> => [Math.round(10 * x) / 10, Math.round(10 * y) / 10];

/** All spots of a draft's own kind. */
export function spotsOf({ kind, points, rods, slab }: ReferenceDraft): PlacedSpot[] {
  if (kind === 'slab')
    return tapsOf({ slab }).flatMap((px, i) => (px ? [{ id: tapId(i), px, ...(TAPS[i] as (typeof TAPS)[0]) }] : []));
  if (kind === 'points')
    return points.map(({ px }, i) => ({ id: pointId(i), px, text: String(i + 1), says: `point ${i + 1}` }));
  if (kind !== 'rods') return [];
  return rods.flatMap((rod, i) =>
    PARTS.flatMap((part) =>
      pixelsOf(rod, part).map((px, k) => ({
        id: rodSpotId(i, part, k),
        px,
        text: part === 'end' ? `${i + 1}${'ab'[k]}` : part === 'mark' ? `${i + 1}.${k + 1}` : '',
        says: `${part} ${k + 1} of rod ${i + 1}`,
      })),
    ),
  );
}

const pixelsOf = ({ ends, marks, corners }: RodDraft, part: Part): readonly Point<'photo'>[] =>
  part === 'end' ? ends : part === 'corner' ? corners : marks.map(({ px }) => px);

/** Puts the next spot where the photo was tapped. @returns its id, or null where this kind takes none */
export function placeSpot(draft: ReferenceDraft, aim: Aim | null, px: Point<'photo'>): string | null {
  if (draft.kind === 'points') {
    draft.points.push({ px, mm: [null, null] });
    return pointId(draft.points.length - 1);
  }
  if (draft.kind === 'slab') {
    const next = nextTap(draft);
    if (next === null) return null;
    draft.slab = tapsOf(draft).with(next, px);
    return tapId(next);
  }
  if (draft.kind !== 'rods') return null;
  const aimed = aim && draft.rods[aim.rod];
  if (aimed && aim.part === 'mark') {
    aimed.marks.push({ px, at: null });
    return rodSpotId(aim.rod, 'mark', aimed.marks.length - 1);
  }
  if (aimed && aimed.corners.length < 4) {
    aimed.corners.push(px);
    return rodSpotId(aim.rod, 'corner', aimed.corners.length - 1);
  }
  const open = draft.rods.findIndex(({ ends }) => ends.length < 2);
  if (open < 0) draft.rods.push(nextRod(draft.rods));
  const place = open < 0 ? draft.rods.length - 1 : open;
  // Read back: in a draft of the job it is then the draft's own object, so that changes to it are recorded.
  const rod = draft.rods[place] as RodDraft;
  rod.ends.push(px);
  return rodSpotId(place, 'end', rod.ends.length - 1);
}

interface Found {
  readonly tap?: number;
  readonly point?: number;
  readonly rod?: number;
  readonly part?: Part;
  readonly k?: number;
}

function find(id: string): Found {
  const point = /^point#(\d+)$/.exec(id);
  if (point) return { point: Number(point[1]) };
  const tap = /^tap#(\d+)$/.exec(id);
  if (tap) return { tap: Number(tap[1]) };
  const rod = /^rod#(\d+)\/(end|mark|corner)#(\d+)$/.exec(id);
  return rod ? { rod: Number(rod[1]), part: rod[2] as Part, k: Number(rod[3]) } : {};
}

/** Moves a spot. */
export function moveSpot(draft: ReferenceDraft, id: string, px: Point<'photo'>): void {
  const { tap, point, rod, part, k = 0 } = find(id);
  if (tap !== undefined) draft.slab = tapsOf(draft).with(tap, px);
  const own = draft.points[point ?? -1];
  if (own) own.px = px;
  const of = draft.rods[rod ?? -1];
  if (!of) return;
  if (part === 'end') of.ends[k] = px;
  if (part === 'corner') of.corners[k] = px;
  const mark = part === 'mark' ? of.marks[k] : undefined;
  if (mark) mark.px = px;
}

/** Takes a spot out. A rod goes with either of its ends, since its marks are measured from them. */
export function removeSpot(draft: ReferenceDraft, id: string): void {
  const { tap, point, rod, part, k = 0 } = find(id);
  if (tap !== undefined) draft.slab = tapsOf(draft).with(tap, null);
  if (point !== undefined) draft.points.splice(point, 1);
  const of = draft.rods[rod ?? -1];
  if (!of || rod === undefined) return;
  if (part === 'end') draft.rods.splice(rod, 1);
  if (part === 'corner') of.corners.splice(k, 1);
  if (part === 'mark') of.marks.splice(k, 1);
}
