import { applyAll, bounds, intersection, type Polygon, type Region, rectangle, regionArea } from '../geometry';
import type { Strip } from '../job';
import { LEAST_PIECE } from './offcuts';
import { FAR } from './sawn';
import type { FaceStock } from './stock';
import { stripMap } from './strips';

/**
 * Wood beside a blank, towards its four sides, that is too narrow for an offcut that is kept once the blank is sawn, mm2: whatever else is cut from the slab, it
 * is waste.
 */
export function sliversBeside(strip: Strip, { outline }: FaceStock): number {
  const map = stripMap(strip);
  const wood: Region<'top'> = {
    outer: applyAll(map, outline.outer),
    holes: outline.holes.map((hole) => applyAll(map, hole)),
  };
  const { minX, maxX, minY, maxY } = bounds(applyAll(map, strip.rough));
  const beside = [
    { limits: rectangle<'top'>(minX, -FAR, maxX, minY), along: maxX - minX },
    { limits: rectangle<'top'>(minX, maxY, maxX, FAR), along: maxX - minX },
    { limits: rectangle<'top'>(-FAR, minY, minX, maxY), along: maxY - minY },
    { limits: rectangle<'top'>(maxX, minY, FAR, maxY), along: maxY - minY },
  ];
  return beside.reduce((sum, side) => sum + narrow(wood, side.limits, side.along), 0);
}

/** Area of the wood within limits where it is narrow in the mean over a length; else 0. */
function narrow(wood: Region<'top'>, limits: Polygon<'top'>, along: number): number {
  const area = intersection([wood], [{ outer: limits, holes: [] }]).reduce((sum, piece) => sum + regionArea(piece), 0);
  return area < LEAST_PIECE.short * along ? area : 0;
}
