import { largestRegion, offset, type Polygon } from '../geometry';
import type { Strip } from '../job';
import { stripInTop } from './strips';

/** Strips that meet edge to edge may be a micrometre apart after rounding: grown by more than that they join, and shrink back. mm. */
const JOIN = 0.01;

/** The outline of strips joined. */
export function outlineOf(strips: readonly Strip[]): Polygon<'top'> {
  const laid = strips.map((strip) => ({ outer: stripInTop(strip), holes: [] }));
  const pieces = offset(offset(laid, JOIN, 'mitre'), -JOIN, 'mitre');
  if (pieces.length === 0) throw new RangeError('A placement without wood has no outline.');
  return largestRegion(pieces).outer;
}
