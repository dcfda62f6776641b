import type { SetReport } from '../plan';
import type { DataTable } from './csv';

/** A set of doors for a spreadsheet: the press list, what every piece is cut out of, and the cores' cut list. Lengths in mm. */
export function setTables(set: SetReport): DataTable[] {
  const mm = (title: string) => ({ title, unit: 'mm' });
  return [
    {
      name: 'press-list',
      columns: [
        { title: 'panel' },
        { title: 'front' },
        mm('pressed height'),
        mm('pressed width'),
        mm('core'),
        { title: 'glue lines' },
        mm('finished height'),
        mm('finished width'),
      ],
      rows: set.press.panels.map(({ number, name, height, width, core, lines, finished }) => {
        return [number, name, height, width, core, lines, finished.height, finished.width];
      }),
    },
    {
      name: 'leaf-pieces',
      columns: [
        { title: 'panel' },
        { title: 'side' },
        { title: 'piece' },
        { title: 'board' },
        { title: 'leaf' },
        { title: 'face up' },
        { title: 'flip' },
        mm('from the marked end'),
        mm('to'),
        mm('from the marked edge'),
        mm('to'),
      ],
      rows: set.fronts.flatMap(({ number: panel, pieces, back }) =>
        [...pieces.map((piece) => ['face', piece] as const), ...back.map((piece) => ['back', piece] as const)].map(
          ([side, { number, boardName, place, face, flip, along, inward }]) => {
            const up = face === 'top' ? 'outer' : 'inner';
            return [panel, side, number, boardName, place, up, flip, ...along, ...inward];
          },
        ),
      ),
    },
    {
      name: 'core-cuts',
      columns: [mm('core'), { title: 'sheet' }, { title: 'cut' }, { title: 'what' }, mm('fence'), { title: 'frees' }],
      rows: set.press.cores.flatMap(({ thickness, cuts }) =>
        cuts.sheets.flatMap((sheet, i) =>
          sheet.cuts.map(({ number, stage, fence, frees }) => [thickness, i + 1, number, stage, fence, frees]),
        ),
      ),
    },
  ];
}
