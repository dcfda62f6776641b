import { type Control, pause } from '../search';
import { toCsv } from './csv';
import type { About } from './drawing';
import { toDxf } from './dxf';
import { toPdf } from './pdf';
import type { CuttingMap } from './sheets';
import { toSvg } from './svg';
import type { Typeface } from './text';

/** A file of a cutting map. Names are plain and sort in the order of the sheets. */
export interface MapFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}

/**
 * A cutting map as files: one PDF of all sheets, an SVG of each, a DXF of each drawing of true size, a CSV of each table. The same map gives the
 * same bytes.
 * @throws Cancelled when called off
 */
export async function mapFiles(
  { sheets, drawings, tables }: CuttingMap,
  typeface: Typeface,
  about: About,
  control: Control,
): Promise<MapFile[]> {
  const text = new TextEncoder();
  const files: MapFile[] = [];
  const add = (name: string, type: string, content: string): void => {
    files.push({ name, type, bytes: text.encode(content) });
  };
  const pdf = await toPdf(sheets, typeface, about, (page) =>
    pause(control, (0.6 * page) / sheets.length, `Writing page ${page + 1} of ${sheets.length}`),
  );
  files.push({ name: 'cutting-map.pdf', type: 'application/pdf', bytes: pdf });
  for (const [i, sheet] of sheets.entries()) {
    await pause(control, 0.6 + (0.25 * i) / sheets.length, 'Writing the sheets');
    add(`${sheet.name}.svg`, 'image/svg+xml', toSvg(sheet, typeface));
  }
  for (const [i, drawing] of drawings.entries()) {
    await pause(control, 0.85 + (0.15 * i) / drawings.length, 'Writing the drawings');
    add(`${drawing.name}.dxf`, 'image/vnd.dxf', await toDxf(drawing));
  }
  for (const table of tables) add(`${table.name}.csv`, 'text/csv', toCsv(table));
  return files;
}
