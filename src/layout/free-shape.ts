import { distanceToSegment, type Point, type Polygon, type Segment } from '../geometry';

/** Whether an edge lies on one side of a ring, both ends of it. */
export function outlineOn(ring: Polygon<'top'>, [a, b]: Segment<'top'>, close: number): boolean {
  return ring.some((p, i) => {
    const side: Segment<'top'> = [p, ring[(i + 1) % ring.length] as Point<'top'>];
    return distanceToSegment(a, side) < close && distanceToSegment(b, side) < close;
  });
}
