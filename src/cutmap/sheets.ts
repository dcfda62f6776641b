import type { SlabReport } from '../plan';
import { InputProblem } from '../units';
import type { DataTable } from './csv';
import { divisionOf } from './divisions';
import type { Sheet } from './drawing';
import { measuresOf, type SlabMeasures } from './measures';
import { numbered } from './page';
import type { SheetRequest } from './request';
import { setTables } from './set-tables';
import { shapeTemplates, topDrawing } from './shape-templates';
import { costSheets, costTable } from './sheets-cost';
import { coverSheets } from './sheets-cover';
import { flatteningSheets } from './sheets-flattening';
import { handSheets } from './sheets-hand';
import { keySheets, templateDrawing } from './sheets-keys';
import { blankLabels } from './sheets-labels';
import { leafLabels } from './sheets-leaf-labels';
import { mirroredSheets } from './sheets-mirrored';
import { panelDrawing, panelSheets } from './sheets-panel';
import { pressSheets } from './sheets-press';
import { resawSheets } from './sheets-resaw';
import { fullSizeSheets, slabDrawing, slabSheets } from './sheets-slab';
import { woodSheets } from './sheets-wood';
import { budgetTable, pointTable } from './tables';

/** Everything that a job's paper and files are written from. */
export interface CuttingMap {
  /** Numbered pages: one PDF, or one SVG each. */
  readonly sheets: readonly Sheet[];
  /** At true size, one DXF each: every slab, and every top's router templates. */
  readonly drawings: readonly Sheet[];
  /** One CSV each; budget first. */
  readonly tables: readonly DataTable[];
}

/**
 * The cutting map of a plan. The same request gives the same map.
 * @throws InputProblem where the plan cuts no slab and resaws no board, so there is nothing to print
 */
export function cuttingMap(request: SheetRequest): CuttingMap {
  const { report } = request;
  if (report.slabs.length === 0 && report.boards.length === 0) {
    throw new InputProblem('There is no plan to print.', '/keptPlan', 'Keep a plan under Layout first.');
  }
  const slabs = report.slabs.map((slab): [SlabReport, SlabMeasures | null] => [
    slab,
    measuresOf(slab, request.job.flitches[slab.flitch]?.slabs[slab.slab]?.faces[slab.face], divisionOf(request.job)),
  ]);
  // The pages for the hand come first: they are what goes out to the slab.
  const body = [
    ...slabs.flatMap(([slab, measures]) => handSheets(request, slab, measures)),
    ...slabs.flatMap(([slab, measures]) => [
      ...slabSheets(request, slab, measures),
      ...mirroredSheets(request, slab, measures),
    ]),
    ...slabs.flatMap(([slab, measures]) => fullSizeSheets(request, slab, measures)),
    ...report.slabs.flatMap((slab) => flatteningSheets(request, slab)),
    ...blankLabels(request),
    ...woodSheets(request),
    ...report.tops.flatMap((top) => [...keySheets(request, top), ...shapeTemplates(request, top)]),
    ...report.boards.flatMap((board) => resawSheets(request, board)),
    ...report.sets.flatMap((set) => [
      ...leafLabels(request, set),
      ...set.fronts.flatMap((front) => panelSheets(request, set, front)),
      ...pressSheets(request, set),
    ]),
    ...costSheets(request),
  ];
  return {
    sheets: numbered([...coverSheets(request, body), ...body], request),
    drawings: [
      ...slabs.map(([slab, measures]) => slabDrawing(request, slab, measures)),
      ...report.tops.flatMap((top) => [templateDrawing(request, top) ?? [], topDrawing(request, top) ?? []].flat()),
      ...report.sets.flatMap(({ fronts }) => fronts.map((front) => panelDrawing(request, front))),
    ],
    tables: [
      budgetTable(report),
      costTable(request),
      ...slabs.flatMap(([slab, measures]) => (measures ? [pointTable(report, slab, measures)] : [])),
      ...report.sets.flatMap(setTables),
    ],
  };
}
