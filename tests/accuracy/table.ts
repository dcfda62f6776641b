/** A figure beside what it is to reach. */
export interface Row {
  readonly what: string;
  /** How many photos, points or lengths it was taken over. */
  readonly n: number;
  readonly figure: string;
  readonly reach?: string;
  readonly met?: boolean;
}

/** Prints rows as a table that reads well in a terminal and in a note. */
export function printTable(title: string, rows: readonly Row[]): void {
  const cells = rows.map(({ what, n, figure, reach, met }) => [
    what,
    String(n),
    figure,
    reach ?? '',
    met === undefined ? '' : met ? 'reached' : 'SHORT',
  ]);
  const head = ['what', 'n', 'measured', 'to reach', ''];
  const widths = head.map((name, i) => Math.max(name.length, ...cells.map((row) => (row[i] as string).length)));
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => cell.padEnd(widths[i] as number))
      .join('  ')
      .trimEnd();
  console.log(`\n${title}\n${line(head)}`);
  for (const row of cells) console.log(line(row));
}

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);

/** The value below which a share q of the values lies. */
export function quantile(values: readonly number[], q: number): number {
  const all = sorted(values);
  return all[Math.min(all.length - 1, Math.floor(q * all.length))] ?? Number.NaN;
}

export const share = (values: readonly boolean[]): number => values.filter(Boolean).length / values.length;
export const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
export const rms = (values: readonly number[]): number => Math.sqrt(mean(values.map((v) => v * v)));
export const percent = (x: number, digits = 0): string => `${(100 * x).toFixed(digits)} %`;
