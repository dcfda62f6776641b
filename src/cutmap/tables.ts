import type { PlanReport, SlabReport } from '../plan';
import type { DataTable } from './csv';
import { slabStem } from './file-names';
import { nameOf, type SlabMeasures } from './measures';

/** The thickness budgets of all blanks. Lengths stay in mm here, whatever the sheets print: a spreadsheet counts with them. */
export function budgetTable(report: PlanReport): DataTable {
  const rows = report.slabs.flatMap((slab) =>
    slab.blanks.flatMap((blank) =>
      (blank.flattening?.budget ?? []).map(({ item, mm }) => [slab.name, nameOf(blank), item, mm]),
    ),
  );
  return {
    name: 'budget',
    columns: [{ title: 'slab' }, { title: 'blank' }, { title: 'item' }, { title: 'thickness', unit: 'mm' }],
    rows,
  };
}

/** All that is measured on one slab. */
export function pointTable(report: PlanReport, slab: SlabReport, { points }: SlabMeasures): DataTable {
  const mm = (title: string) => ({ title, unit: 'mm' });
  return {
    name: `${slabStem(report, slab)}-${slab.face}-measures`,
    columns: [
      { title: 'point' },
      { title: 'what' },
      mm('along'),
      mm('in'),
      mm('from A'),
      mm('from A ±'),
      mm('from B'),
      mm('from B ±'),
      mm('across to the edge'),
      { title: 'edge' },
      mm('along to the end'),
      { title: 'end' },
    ],
    rows: points.map((point) => [
      point.label,
      point.confirmed ? point.what : `${point.what}, crack not confirmed`,
      point.offsets.along,
      point.offsets.inward,
      point.tapes.fromA,
      point.plusMinus.fromA,
      point.tapes.fromB,
      point.plusMinus.fromB,
      point.across?.mm ?? null,
      point.across?.edge ?? null,
      point.alongside?.mm ?? null,
      point.alongside?.edge ?? null,
    ]),
  };
}
