import { formatLength, type UnitSystem } from '../units';
import type { FrameReport, GradeReport } from './set-types';

/** One row of the report against a grade: what, what is allowed, what there is, whether it holds, and the section. */
export type GradeRow = readonly [what: string, allowed: string, found: string, holds: string, section: string];

/** The report against a grade as rows for screen and paper. @param number gives a front's number by its id */
export function gradeRows(
  { lines }: GradeReport,
  units: UnitSystem,
  number: (front: string) => number | null,
): GradeRow[] {
  return lines.map(({ what, section, limit, found, unit, holds, fronts }) => {
    const say = (value: number | null) =>
      value === null
        ? '–'
        : unit === 'fronts'
          ? String(value)
          : formatLength(value, units, { decimals: 1, denominator: 32 });
    const broken = fronts.flatMap((id) => number(id) ?? []);
    const verdict = holds === null ? '–' : holds ? 'yes' : `no${broken.length > 0 ? `: ${broken.join(', ')}` : ''}`;
    return [what, say(limit), say(found), verdict, section];
  });
}

/** Rails and stiles as a list to cut: like pieces together, the longest first. */
export function frameRows(
  frames: readonly FrameReport[],
  units: UnitSystem,
): (readonly [string, string, string, string])[] {
  const say = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 32 });
  const pieces = new Map<
    string,
    { name: string; count: number; length: number; width: number; shoulder: number; of: number[] }
  >();
  for (const { number, members } of frames) {
    for (const { name, count, length, width, shoulder } of members) {
      const called = name === 'stile' ? 'stile' : 'rail';
      const key = `${called} ${length} ${width}`;
      const own = pieces.get(key) ?? { name: called, count: 0, length, width, shoulder, of: [] };
      own.count += count;
      if (!own.of.includes(number)) own.of.push(number);
      pieces.set(key, own);
    }
  }
  return [...pieces.values()]
    .sort((a, b) => b.length - a.length || b.width - a.width)
    .map(({ name, count, length, width, shoulder, of }) => [
      `${count} × ${name}`,
      `${say(length)} × ${say(width)}`,
      say(shoulder),
      of.join(', '),
    ]);
}
