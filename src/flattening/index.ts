export { type BlankRequest, type FlatteningShop, finishedThickness, flattenBlank } from './blank';
export { type Board, thickestBoard } from './board';
export { flatten } from './flatten';
export { type BlankFlattening, type FlattenInput, type FlattenOutput, flattenInput, flattenOutput } from './io';
export { type PieceWarp, pieceWarp } from './piece-warp';
export type { Plane } from './planes';
export { type Section, sectionOf } from './section';
export { type StandingWood, standingWood } from './standing';
export { type BlankSurfaces, thicknessOfBlank } from './thickness';
