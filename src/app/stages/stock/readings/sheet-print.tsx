import { useState } from 'preact/hooks';
import { handOver } from '../../../jobs';
import { useUnits } from '../../../parts/job-context';
import { type Trouble, TroubleNote, troubleOf } from '../../../parts/problem';
import { solverWork } from '../../../work';
import type { StockView } from '../view';

/** A sheet with the slab's spots and boxes to fill, to take along to the slab. */
export function SheetPrint({ view }: { view: StockView }) {
  const units = useUnits();
  const [drawing, setDrawing] = useState(false);
  const [trouble, setTrouble] = useState<Trouble | null>(null);

  async function print() {
    const place = view.place.peek();
    if (!place) return;
    setDrawing(true);
    setTrouble(null);
    try {
      const { slab, flitch } = place;
      const bytes = await solverWork.call(
        new AbortController().signal,
        () => {},
        (api, id, report) =>
          api.readingSheet(
            id,
            { slab, flitch: flitch.name, paper: units === 'in' ? 'Letter' : 'A4', units },
            view.store.job.peek().date,
            report,
          ),
      );
      await handOver(new File([bytes as Uint8Array<ArrayBuffer>], 'readings.pdf', { type: 'application/pdf' }));
    } catch (error) {
      setTrouble(troubleOf(error));
    } finally {
      setDrawing(false);
    }
  }

  return (
    <>
      <TroubleNote trouble={trouble} />
      <button type="button" class="button" disabled={drawing} onClick={() => void print()}>
        {drawing ? 'Drawing the sheet …' : 'Save a sheet to fill in (PDF)'}
      </button>
    </>
  );
}
