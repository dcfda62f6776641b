export { bareSlab } from './bare-slab';
export { type CardRequest, cardSheets, largestSide } from './card-sheet';
export { type DataTable, toCsv } from './csv';
export { type Datum, offsetsOf, pointAt, tapesOf, trilaterate } from './datum';
export { divisionOf } from './divisions';
export type { About, EncodedImage, Layer, Sheet } from './drawing';
export { toDxf } from './dxf';
export { previewName } from './file-names';
export { laidPicture, MM_PER_PX } from './laid-picture';
export { type MapFile, mapFiles } from './map-files';
export type { MarkTrouble } from './mark-troubles';
export { offerMarks } from './marks';
export {
  type Measured,
  type MeasuredSlab,
  markQuestion,
  measuresOf,
  mirrored,
  type SlabMeasures,
  troublesOf,
} from './measures';
export { PAPERS, type PaperName } from './papers';
export { toPdf } from './pdf';
export { type ReadingSheetRequest, readingSheets } from './reading-sheet';
export type { LaidPicture, SheetRequest } from './request';
export { type CuttingMap, cuttingMap } from './sheets';
export { aheadSheets } from './sheets-ahead';
export { toSvg } from './svg';
export type { ReadLength, Suspect, TapeVerdict } from './tape-fit';
export { isOf, type TapeLength } from './tape-lengths';
export { type TapeSays, tapeSays } from './tape-says';
export { loadTypeface, type Typeface } from './text';
