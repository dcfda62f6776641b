import { offset, type Polygon, regionArea } from '../geometry';
import type { Strip } from '../job';
import { stripInTop } from './strips';

/** Strips that meet edge to edge may be a micrometre apart after rounding: grown by more than that they join, and shrink back. mm. */
const JOIN = 0.01;

/** The outline of strips joined. */
export function outlineOf(strips: readonly Strip[]): Polygon<'top'> {
  const laid = strips.map((strip) => ({ outer: stripInTop(strip), holes: [] }));
  const [first, ...rest] = offset(offset(laid, JOIN, 'mitre'), -JOIN, 'mitre');
  if (!first) throw new RangeError('A placement without wood has no outline.');
  return rest.reduce((a, b) => (regionArea(b) > regionArea(a) ? b : a), first).outer;
}
