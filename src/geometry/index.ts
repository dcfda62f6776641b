export { difference, intersection, offset, union } from './boolean';
export type { Bounds, Frame, Point, Polygon, Region, Segment } from './frame';
export {
  bounds,
  centroid,
  contains,
  crossesItself,
  crossingsAtX,
  densify,
  distance,
  distanceToRing,
  distanceToSegment,
  largestRegion,
  largestRing,
  nearestOnSegment,
  rectangle,
  regionArea,
  regionContains,
  regionsArea,
  ringArea,
  segmentsCross,
  simplify,
  simplifyLine,
} from './polygon';
export { ribbon, type WideLine } from './ribbon';
export { type Affine, affine, apply, applyAll, applyToRegions, compose, invert, rigid } from './transform';
export { type Triangle, type Triangulation, triangulate } from './triangulation';
