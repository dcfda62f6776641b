import type { Point } from '../geometry';
import type { Calibration } from '../job';
import type { SightedPhoto } from './sighted';

/** A mark that other photos of the face may show, too. */
export interface Sighting {
  /** What the user calls it: 'card 3', 'point 2', 'the sheet'. Marks of one name are the same mark. */
  readonly name: string;
  /** Its corners in the stored photo, in the same order in every photo; a point has one. */
  readonly px: readonly Point<'photo'>[];
  /** How far it lies below the mean plane of the face, mm. */
  readonly below: number;
  /** One standard deviation of each corner, px. */
  readonly sigma: number;
}

/** What calibration calls a mark by its name here, and the other way round. */
export const markerOf = (name: string): string => name.replace(/^card /, 'marker ');
const cardOf = (name: string): string => name.replace(/^marker /, 'card ');

/** A card's corners are found to this, px, white growing over black included (our own trials on rendered photos). */
const CARD_SIGMA = 0.2;
/** A sheet's corners curl, and its edges are soft. */
const SHEET_SIGMA = 1;
/** Points are clicked to this. */
const CLICK_SIGMA = 0.7;
/** Points given at places this near to each other, mm, are one point. */
const SAME_PLACE = 0.5;

/**
 * The marks of a photo that could tie it to others. What the photo's own fit left out ties nothing.
 * @param times how many times larger the stored photo is than the copy in which they were found
 */
export function sightingsOf(
  { scale, cards }: Pick<SightedPhoto, 'scale' | 'cards'>,
  { outliers }: Calibration,
  times: number,
): Sighting[] {
  const below = scale.drop ?? 0;
  const kept = cards.filter(({ name }) => !outliers.includes(name));
  switch (scale.kind) {
    case 'markers':
      return kept.map(({ name, corners }) => ({ name: cardOf(name), px: corners, below, sigma: times * CARD_SIGMA }));
    case 'paper':
      return cards.map(({ corners }) => ({ name: 'the sheet', px: corners, below, sigma: times * SHEET_SIGMA }));
    case 'points':
      return scale.points.flatMap(({ px, mm }, i) =>
        outliers.includes(`point ${i + 1}`)
          ? []
          : [{ name: `the point at ${placeName(mm)}`, px: [px], below, sigma: times * CLICK_SIGMA }],
      );
    case 'rods':
    case 'slab':
      return [];
  }
}

const placeName = ([x, y]: Point<'face'>): string =>
  [x, y].map((mm) => String(Math.round(mm / SAME_PLACE) * SAME_PLACE)).join(', ');
