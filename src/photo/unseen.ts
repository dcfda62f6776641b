import { distanceToRing, type Point, type Polygon } from '../geometry';

/** A point of the outline this near to the photo's frame, mm, is where the photo ends and not the wood. */
const ON_FRAME = 1.5;

/** Stretches of an outline that run along the photo's frame: there the wood runs on unseen. mm */
export function unseenStretches(outline: Polygon<'face'>, frame: Polygon<'face'>): Point<'face'>[][] {
  const at = (i: number) => outline[i % outline.length] as Point<'face'>;
  const onFrame = outline.map((p, i) => {
    const q = at(i + 1);
    const middle: Point<'face'> = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    return [p, middle, q].every((place) => distanceToRing(place, frame) < ON_FRAME);
  });
  // From an edge that is seen, so that no stretch is cut in two where the ring begins.
  const start = onFrame.indexOf(false);
  if (start < 0) return [[...outline, at(0)]];
  const lines: Point<'face'>[][] = [];
  let line: Point<'face'>[] = [];
  for (let k = start + 1; k <= start + outline.length; k++) {
    if (onFrame[k % outline.length]) line.push(at(k));
    else if (line.length > 0) {
      lines.push([...line, at(k)]);
      line = [];
    }
  }
  return lines;
}
