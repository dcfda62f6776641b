import { DEFAULT_PRESSING, type Job, type SetFront } from '../job';
import type { FrontReport, PressLine, PressReport } from './set-types';
import { type SheetCuts, type SheetPart, sheetCuts } from './sheet-cuts';
import { fewestShelves, type Piece } from './shelves';

const MM2_PER_M2 = 1e6;
/** Kept between panels in the bag and at its sides, mm, for the bag to reach down to the platen (practice). */
const BETWEEN = 40;

/** The press list of a set: cores and their cut list, glue, and what goes into the bag together. */
export function pressReport(job: Job, fronts: readonly FrontReport[]): PressReport {
  const pressing = job.shop.pressing ?? DEFAULT_PRESSING;
  const panels = fronts.map((front): PressLine => {
    const { id, number, name, pressed, finished, framed, back } = front;
    const core = framed ? pressing.framed : pressing.thickness;
    return { front: id, number, name, ...size(pressed), core, finished, lines: back.length > 0 ? 2 : 1 };
  });
  const area = panels.reduce((sum, { height, width, lines }) => sum + height * width * lines, 0);
  const cores = [...new Set(panels.map(({ core }) => core))]
    .sort((a, b) => b - a)
    .map((thickness) => ({
      thickness,
      cuts: coreCuts(
        job,
        panels.filter(({ core }) => core === thickness),
      ),
    }));
  const sheets = cores.reduce((sum, { cuts }) => sum + cuts.sheets.length, 0);
  return {
    panels,
    cores,
    glue: { area, grams: (area / MM2_PER_M2) * pressing.spread },
    ...bagged(panels, pressing.bag),
    cost: pressing.price === null ? null : pressing.price * sheets,
  };
}

const size = ({ width, height }: SetFront['pressed']) => ({ width, height });

/** Panels of one size are one part, as many times. */
function coreCuts(job: Job, panels: readonly PressLine[]): SheetCuts {
  const { sheet, trim, grain } = job.shop.pressing ?? DEFAULT_PRESSING;
  const parts = panels.map(({ number, height, width }): SheetPart => {
    return { id: String(number), name: `Panel ${number}`, height, width, count: 1 };
  });
  return sheetCuts(parts, { ...sheet, trim, grain }, job.shop.kerf.fine);
}

function bagged(
  panels: readonly PressLine[],
  bag: { readonly length: number; readonly width: number } | null,
): Pick<PressReport, 'loads' | 'tooLarge'> {
  if (!bag) return { loads: null, tooLarge: [] };
  const room = { run: bag.length - 2 * BETWEEN, rise: bag.width - 2 * BETWEEN };
  const posed = panels.map(({ number, height, width }): Piece => {
    const poses = [
      { run: height, rise: width },
      { run: width, rise: height },
    ].filter(({ run, rise }) => run <= room.run && rise <= room.rise);
    return { id: String(number), number: 1, poses };
  });
  const { bins } = fewestShelves(
    posed.filter(({ poses }) => poses.length > 0),
    room,
    BETWEEN,
  );
  return {
    loads: bins.map((bin) =>
      bin.flatMap(({ pieces }) => pieces.map(({ piece }) => Number(piece.id))).sort((a, b) => a - b),
    ),
    tooLarge: posed.flatMap(({ id, poses }) => (poses.length === 0 ? [Number(id)] : [])),
  };
}
