import { offset, type Region, ribbon } from '../geometry';
import type { Defect } from '../job';

/** What a defect covers, grown by `grow` mm. */
export function defectArea({ polygon, line }: Pick<Defect, 'polygon' | 'line'>, grow: number): Region<'face'>[] {
  if (polygon) return offset([{ outer: polygon, holes: [] }], grow);
  if (line) return [{ outer: ribbon<'face'>(line, grow), holes: [] }];
  return [];
}
