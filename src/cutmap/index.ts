export { type DataTable, toCsv } from './csv';
export type { About, EncodedImage, Layer, Sheet } from './drawing';
export { toDxf } from './dxf';
export { toPdf } from './pdf';
export { layersOf, toSvg } from './svg';
export { loadTypeface, type Typeface } from './text';
