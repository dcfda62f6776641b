import type { Scale } from '../job';
import type { Raster } from '../raster';
import type { LensBelief } from './adjustment';
import type { Cv } from './cv';
import { markerMarks } from './reference-markers';
import { sheetMarks } from './reference-paper';
import { pointMarks } from './reference-points';
import { rodMarks } from './reference-rods';
import { slabMarks } from './reference-slab';
import type { Reference } from './reference-type';

/** @throws InputProblem when the reference is not in the photo or cannot serve */
export function referenceOf(cv: Cv, photo: Raster, scale: Scale, lens: LensBelief): Reference {
  switch (scale.kind) {
    case 'markers':
      return markerMarks(cv, photo, scale);
    case 'paper':
      return sheetMarks(cv, photo, scale, lens);
    case 'points':
      return pointMarks(cv, scale, lens);
    case 'rods':
      return rodMarks(photo, scale);
    case 'slab':
      return slabMarks(scale, lens, Math.max(photo.width, photo.height));
  }
}
