import type { ReferenceDraft, Rod, RodDraft, Scale, Taped } from '../../../../job';
import { PAPERS } from './papers';
import { slabLacks, slabScale, tapsOfScale } from './slab-taps';

/** What lies on the slab, between what was typed so far and the scale that a photo is measured by. Pure. */

/** Marker side on the sheets that this app prints, and the paper most at hand: what a first photo begins with. */
export const FIRST_DRAFT: ReferenceDraft = {
  kind: 'markers',
  side: 80,
  centres: [],
  sheet: PAPERS.A4,
  points: [],
  rods: [],
  drop: 0,
  cameraHeight: null,
};

/** Two clicks nearer than this, px, are one spot. */
const APART = 3;
/** The ends of a rod lie at least this far apart in the photo, px: nearer, a click's error is a large part of its length. */
const ROD_APART = 20;
/** Fewest points that tell a plane's perspective. */
export const LEAST_POINTS = 4;

/** A scale as it can be typed on; `before` gives what the scale does not say: the sizes of the other kinds. */
export function draftOf(scale: Scale, before: ReferenceDraft = FIRST_DRAFT): ReferenceDraft {
  const draft: ReferenceDraft = {
    ...before,
    kind: scale.kind,
    centres: [],
    points: [],
    rods: [],
    drop: scale.drop ?? 0,
    cameraHeight: scale.cameraHeight ?? null,
    ...(scale.lens && { lens: true }),
  };
  switch (scale.kind) {
    case 'markers':
      draft.side = scale.side;
      draft.centres = Object.entries(scale.centres ?? {}).map(([card, at]) => ({
        card: Number(card),
        at: [at[0], at[1]],
      }));
      break;
    case 'paper':
      draft.sheet = { width: scale.width, height: scale.height };
      break;
    case 'points':
      draft.points = scale.points.map(({ px, mm }) => ({ px, mm: [mm[0], mm[1]] }));
      break;
    case 'rods':
      draft.rods = scale.rods.map(rodDraftOf);
      break;
    case 'slab':
      draft.slab = tapsOfScale(scale);
  }
  return draft;
}

const rodDraftOf = ({ px, length, marks, corners, width, above }: Rod): RodDraft => ({
  ends: [...px],
  length,
  marks: (marks ?? []).map(({ px: at, at: along }) => ({ px: at, at: along })),
  corners: [...(corners ?? [])],
  width: width ?? null,
  above: above ?? 0,
});

/** What the next photo begins with: the same kind and sizes, nothing clicked; rods keep their lengths. */
export function nextDraft({ lens: _, slab: __, ...draft }: ReferenceDraft): ReferenceDraft {
  return { ...draft, centres: [], points: [], rods: [], cameraHeight: null };
}

/** A new rod with its two ends; it is most likely as long, as wide and as high as the one before. */
export function nextRod(rods: readonly RodDraft[]): RodDraft {
  const last = rods.at(-1);
  return {
    ends: [],
    length: last?.length ?? null,
    marks: [],
    corners: [],
    width: last?.width ?? null,
    above: last?.above ?? 0,
  };
}

/**
 * What still has to be typed or clicked, in sentences; empty when the draft is whole.
 * @param taped what the tape said of the slab itself
 */
export function lacking(draft: ReferenceDraft, taped?: Taped): string[] {
  switch (draft.kind) {
    case 'markers':
      return cardsLack(draft);
    case 'paper':
      return [];
    case 'points':
      return pointsLack(draft);
    case 'rods':
      return rodsLack(draft);
    case 'slab':
      return slabLacks(draft, taped);
  }
}

function cardsLack({ centres }: ReferenceDraft): string[] {
  const out: string[] = [];
  const numbers = centres.map(({ card }) => card);
  numbers.forEach((card, i) => {
    const at = centres[i]?.at;
    if (card === null) out.push(`Type the number of the card in row ${i + 1}, as it is printed on it.`);
    else if (card > 49 || !Number.isInteger(card))
      out.push(`There is no card ${card}: cards have numbers from 0 to 49.`);
    else if (numbers.indexOf(card) < i) out.push(`Card ${card} is there twice: take one row out.`);
    else if (at?.some((value) => value === null))
      out.push(`Type where the middle of card ${card} lies, along and across.`);
  });
  const twice = samePlace(centres.map(({ at }) => at));
  if (twice)
    out.push(`Cards ${numbers[twice[0]]} and ${numbers[twice[1]]} cannot lie on the same spot: measure again.`);
  return out;
}

function pointsLack({ points }: ReferenceDraft): string[] {
  const whole = points.filter(({ mm }) => mm.every((value) => value !== null)).length;
  const out: string[] = [];
  if (whole < LEAST_POINTS) out.push(`${whole} of ${LEAST_POINTS} points are complete.`);
  const clicked = near(points.map(({ px }) => px));
  if (clicked) out.push(`Points ${clicked[0] + 1} and ${clicked[1] + 1} lie on the same spot of the photo: move one.`);
  const typed = samePlace(points.map(({ mm }) => mm));
  if (typed) out.push(`Points ${typed[0] + 1} and ${typed[1] + 1} have the same measures: check what was typed.`);
  return out;
}

function rodsLack({ rods }: ReferenceDraft): string[] {
  if (rods.length === 0) return ['Tap both ends of a rod or tape on the photo.'];
  const out = rods.flatMap((rod, i) => rodLacks(rod, `rod ${i + 1}`));
  const whole = rods.filter(({ ends }) => ends.length === 2);
  if (out.length === 0 && whole.length === 1 && whole[0]?.corners.length === 0)
    out.push('One rod alone does not tell the slant: add a second one lying another way, or the corners of this one.');
  return out;
}

function rodLacks(rod: RodDraft, says: string): string[] {
  const out: string[] = [];
  const [a, b] = rod.ends;
  if (!a || !b) return [`Tap ${a ? 'the other end' : 'both ends'} of ${says}.`];
  if (Math.hypot(a[0] - b[0], a[1] - b[1]) < ROD_APART)
    out.push(`The two ends of ${says} lie on the same spot of the photo: move one to the other end.`);
  if (rod.length === null) out.push(`Type how long ${says} is.`);
  rod.marks.forEach(({ at }, k) => {
    if (at === null) out.push(`Type where mark ${k + 1} of ${says} is, from its first end.`);
    else if (rod.length !== null && (at < 0 || at > rod.length))
      out.push(`Mark ${k + 1} of ${says} lies beyond its ends: it is measured from its first end.`);
  });
  if (rod.corners.length > 0 && rod.corners.length < 4)
    out.push(`Tap all four corners of ${says}, or take out the ${rod.corners.length} that are there.`);
  if (rod.corners.length > 0 && rod.width === null) out.push(`Type how wide ${says} is, for its corners.`);
  return out;
}

/** The first two places that are one, by their order. */
function near(px: readonly (readonly [number, number])[]): [number, number] | null {
  for (const [i, p] of px.entries())
    for (let j = 0; j < i; j++) {
      const q = px[j];
      if (q && Math.hypot(p[0] - q[0], p[1] - q[1]) < APART) return [j, i];
    }
  return null;
}

function samePlace(places: readonly (readonly [number | null, number | null])[]): [number, number] | null {
  for (const [i, [x, y]] of places.entries())
    for (let j = 0; j < i; j++)
      if (x !== null && y !== null && places[j]?.[0] === x && places[j]?.[1] === y) return [j, i];
  return null;
}

/**
 * The scale of a whole draft; null while something lacks. `kept` stays with it: tape checks, and the lens that is used.
 * @param taped what the tape said of the slab itself
 */
export function scaleOf(draft: ReferenceDraft, kept: Pick<Scale, 'distances' | 'lens'>, taped?: Taped): Scale | null {
  if (lacking(draft, taped).length > 0) return null;
  const itself = draft.kind === 'slab';
  const common = {
    ...(draft.drop !== 0 && !itself && { drop: draft.drop }),
    ...(draft.cameraHeight !== null && !itself && { cameraHeight: draft.cameraHeight }),
    ...(kept.distances && kept.distances.length > 0 && { distances: kept.distances }),
    ...(kept.lens && { lens: kept.lens }),
  };
  switch (draft.kind) {
    case 'markers': {
      const centres = Object.fromEntries(
        draft.centres.map(({ card, at: [x, y] }) => [String(card), [x ?? 0, y ?? 0] as const]),
      );
      return {
        kind: 'markers',
        dictionary: '4x4_50',
        side: draft.side,
        ...(draft.centres.length > 0 && { centres }),
        ...common,
      };
    }
    case 'paper':
      return { kind: 'paper', ...draft.sheet, ...common };
    case 'points':
      return {
        kind: 'points',
        points: draft.points.flatMap(({ px, mm: [x, y] }) => (x === null || y === null ? [] : [{ px, mm: [x, y] }])),
        ...common,
      };
    case 'rods':
      return { kind: 'rods', rods: draft.rods.flatMap(rodOf), ...common };
    case 'slab': {
      const measures = slabScale(draft, taped);
      return measures && { ...measures, ...common };
    }
  }
}

function rodOf({ ends, length, marks, corners, width, above }: RodDraft): Rod[] {
  const [a, b] = ends;
  const [c, d, e, f] = corners;
  if (!a || !b || length === null) return [];
  return [
    {
      px: [a, b],
      length,
      ...(marks.length > 0 && { marks: marks.flatMap(({ px, at }) => (at === null ? [] : [{ px, at }])) }),
      ...(c && d && e && f && { corners: [c, d, e, f] }),
      ...(width !== null && { width }),
      ...(above > 0 && { above }),
    },
  ];
}
