import { useState } from 'preact/hooks';
import { announce } from '../../../announce';
import { handOver } from '../../../jobs';
import { Choices } from '../../../parts/choices';
import { LengthField, NumberField } from '../../../parts/fields';
import { useUnits } from '../../../parts/job-context';
import { type Trouble, TroubleNote, troubleOf } from '../../../parts/problem';
import { solverWork } from '../../../work';
import type { StockView } from '../view';

type CardPaper = 'A4' | 'Letter';

const PAPERS: readonly (readonly [CardPaper, string])[] = [
  ['A4', 'A4'],
  ['Letter', 'Letter'],
];

/** Cards to print: how many, how large, on which paper. */
export function CardPrint({ view }: { view: StockView }) {
  const units = useUnits();
  const [count, setCount] = useState(4);
  const [side, setSide] = useState(view.reference.peek().side);
  const [paper, setPaper] = useState<CardPaper>(units === 'in' ? 'Letter' : 'A4');
  const [drawing, setDrawing] = useState(false);
  const [trouble, setTrouble] = useState<Trouble | null>(null);

  async function print() {
    setDrawing(true);
    setTrouble(null);
    try {
      const bytes = await solverWork.call(
        new AbortController().signal,
        () => {},
        (api, id, report) => api.cards(id, { side, count, paper, units }, report),
      );
      await handOver(new File([bytes as Uint8Array<ArrayBuffer>], 'cards.pdf', { type: 'application/pdf' }));
      announce('The cards are drawn. Measure a black square on the print, and type its side here.');
    } catch (error) {
      setTrouble(troubleOf(error));
    } finally {
      setDrawing(false);
    }
  }

  return (
    <details>
      <summary>Print cards</summary>
      <div class="stack">
        <p class="small soft">
          A sheet of cards in true size, with two lines to check the printer by. Every card has a number of its own; lay
          each once.
        </p>
        <div class="fields">
          <NumberField whole most={50} label="How many cards" value={count} onChange={setCount} />
          <LengthField
            finest={32}
            decimals={1}
            label="Side of the black square to print"
            value={side}
            onChange={setSide}
          />
        </div>
        <Choices label="Paper to print on" options={PAPERS} value={paper} onChange={(next) => setPaper(next)} />
        <TroubleNote trouble={trouble} />
        <button type="button" class="button" disabled={drawing} onClick={() => void print()}>
          {drawing ? 'Drawing the cards …' : 'Save the sheet of cards (PDF)'}
        </button>
        <p class="small soft">Print at 100 %. Then measure a black square and type its side above: the print counts.</p>
      </div>
    </details>
  );
}
