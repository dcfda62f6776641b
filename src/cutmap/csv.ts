import { oneLine } from './text';

/** A table of data: what a spreadsheet opens. */
export interface DataTable {
  /** Stem of its file's name. */
  readonly name: string;
  readonly columns: readonly { readonly title: string; readonly unit?: string }[];
  readonly rows: readonly (readonly (string | number | null)[])[];
}

/**
 * A table as RFC 4180: CRLF, quotes where needed, every line as many fields as the first, units in the header. A text that a
 * spreadsheet would take for a formula gets an apostrophe in front, so it is shown and not run; numbers are left alone.
 */
export function toCsv(table: DataTable): string {
  const header = table.columns.map(({ title, unit }) => field(unit ? `${title} (${unit})` : title));
  const rows = table.rows.map((row) => table.columns.map((_, i) => field(row[i] ?? null)));
  return `${[header, ...rows].map((fields) => fields.join(',')).join('\r\n')}\r\n`;
}

function field(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(Math.round(value * 1000) / 1000 || 0);
  const words = oneLine(value);
  const safe = /^\s*[=+\-@\uff0b\uff0d\uff1d\uff20|]/.test(words) ? `'${words}` : words;
  return /[",]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}
