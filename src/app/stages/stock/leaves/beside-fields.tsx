import { Choices } from '../../../parts/choices';
import { CardsFields } from '../reference/cards-fields';
import { choose } from '../reference/reference-card';
import { SheetFields } from '../reference/sheet-fields';
import type { StockView } from '../view';

const KINDS = [
  ['markers', 'Printed cards'],
  ['paper', 'A sheet of paper'],
] as const;

/** What lies beside leaves, or a board, and measures their photo. */
export function BesideFields({ view, label }: { view: StockView; label: string }) {
  const { kind } = view.next.value;
  return (
    <>
      <Choices
        label={label}
        options={KINDS}
        value={kind === 'paper' ? 'paper' : 'markers'}
        onChange={(next) => choose(view, next)}
      />
      {kind === 'paper' ? <SheetFields view={view} /> : <CardsFields view={view} />}
    </>
  );
}
