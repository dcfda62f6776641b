import {
  applyAll,
  applyToRegions,
  bounds,
  difference,
  intersection,
  invert,
  type Region,
  rectangle,
} from '../geometry';
import { grainLines } from '../job';
import { beyondRounding, type Fault, findings, type LaidStrip, said, solid } from './check-laid';

/** Whether a blank keeps the shop's allowances around its finished strip, as far as the wood goes. */

/** Farther than any slab reaches. */
const FAR = 1e5;

/** The ends of a top at which the grain carries on into its neighbour: there only a kerf lies between the two. */
function goesOn({ job, top }: LaidStrip): { readonly right: boolean; readonly left: boolean } {
  for (const { tops } of grainLines(job)) {
    const at = tops.findIndex(({ id }) => id === top.id);
    if (at >= 0) return { right: at > 0, left: at + 1 < tops.length };
  }
  return { right: false, left: false };
}

/** @returns faults of `allowance` */
export function checkBlank(laid: LaidStrip): Fault[] {
  const { job, top, strip, face, toTop, inTop, index, where } = laid;
  const { faults, say } = findings(where);
  if (beyondRounding(difference([solid(strip.finished)], [solid(strip.rough)])).length > 0) {
    say('allowance', 'The blank is smaller than the finished strip.');
    return faults;
  }
  const { endAllowance, jointAllowance } = job.shop;
  const box = bounds(inTop);
  const run = goesOn(laid);
  const live = top.front === 'live' && index === 0;
  const toFace = invert(toTop);
  const rough = [solid(strip.rough)];
  const ends = [run.right ? 0 : endAllowance, run.left ? 0 : endAllowance] as const;
  const [front, back] = [live ? FAR : jointAllowance, jointAllowance];
  const missingIn = (x0: number, y0: number, x1: number, y1: number): Region<'face'>[] => {
    const beside = [solid(applyAll(toFace, rectangle<'top'>(x0, y0, x1, y1)))];
    return beyondRounding(difference(intersection(beside, [face.outline]), rough));
  };
  if (missingIn(box.minX - ends[0], box.minY - front, box.maxX + ends[1], box.maxY + back).length === 0) return faults;
  // Then each side by itself, so that the fault can say which.
  const sides: readonly (readonly [string, number, readonly [number, number, number, number]])[] = [
    ['its right-hand end', ends[0], [box.minX - ends[0], box.minY, box.minX, box.maxY]],
    ['its left-hand end', ends[1], [box.maxX, box.minY, box.maxX + ends[1], box.maxY]],
    ['its front', live ? 0 : front, [box.minX, box.minY - front, box.maxX, box.minY]],
    ['its back', back, [box.minX, box.maxY, box.maxX, box.maxY + back]],
  ];
  for (const [name, wanted, [x0, y0, x1, y1]] of sides) {
    if (wanted === 0) continue;
    const missing = missingIn(x0, y0, x1, y1);
    if (missing.length === 0) continue;
    const at = bounds(applyToRegions(toTop, missing).flatMap(({ outer }) => outer));
    const left = Math.max(0, box.minX - at.maxX, at.minX - box.maxX, box.minY - at.maxY, at.minY - box.maxY);
    say(
      'allowance',
      `The blank keeps ${said(job, left)} over at ${name}; ${said(job, wanted)} are to be left where there is wood.`,
    );
  }
  return faults;
}
