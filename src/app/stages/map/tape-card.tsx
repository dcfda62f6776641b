import { useMemo, useState } from 'preact/hooks';
import { isOf, type SlabMeasures, type Suspect, type TapeLength, tapeSays } from '../../../cutmap';
import type { TapeReading } from '../../../job';
import { recordScaled } from '../../../plan';
import { formatLength, formatPlusMinus } from '../../../units';
import { announce } from '../../announce';
import { ChoiceField, LengthField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { editMarked, type MarkedSlab } from './marked-slab';
import { lengthWords, suspectWords, verdictWords } from './tape-words';

/** So many lengths are asked for at first: the chalk line and the points between each other. */
const FIRST = 5;
const NO_READINGS: readonly TapeReading[] = [];

/** What the tape says of the marked slab, typed in; whether the marking is right, and what to do where it is not. */
export function TapeCard({ store, marked, measures }: { store: JobStore; marked: MarkedSlab; measures: SlabMeasures }) {
  const units = useUnits();
  const [all, setAll] = useState(false);
  const { slab, measured, own } = marked;
  const readings = slab.tapes ?? NO_READINGS;
  const { lengths, verdict, old } = useMemo(
    () => tapeSays(measured, own, measures, readings, slab.drilled === 'seen'),
    [measured, own, measures, readings, slab.drilled],
  );
  const extra = verdict.lengths.filter((read) => !lengths.some((length) => isOf(read, length)));
  const rows = [...lengths, ...extra].filter(
    (length, i) => all || i < FIRST || verdict.lengths.some((read) => isOf(read, length)),
  );
  const at = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 32, keepZeros: true });

  function type(length: TapeLength, mm: number | null) {
    const { from, to, ends } = length;
    editMarked(
      store,
      marked,
      mm === null ? `Drop the tape from ${from} to ${to}` : `Tape ${from} to ${to}`,
      (draft) => {
        const kept = (draft.tapes ?? []).filter((reading) => reading.old || !isOf(reading, length));
        if (mm !== null) kept.push({ from, to, ends: structuredClone(ends) as unknown as TapeReading['ends'], mm });
        if (kept.length > 0) draft.tapes = kept;
        else delete draft.tapes;
      },
    );
  }

  return (
    <section class="card stack" aria-label="What the tape says">
      <h2>What the tape says</h2>
      <p
        role="status"
        class={verdict.says === 'right' ? 'note measured' : verdict.says === 'none' ? 'soft' : 'note miss'}
      >
        {verdictWords(verdict, units)}
      </p>
      {verdict.suspects.map((suspect) => (
        <SuspectNote
          key={JSON.stringify(suspect)}
          store={store}
          marked={marked}
          measures={measures}
          suspect={suspect}
          words={suspectWords(suspect, verdict.lengths, units)}
          acts={verdict.says === 'suspects'}
        />
      ))}
      <table class="tapes">
        <caption class="hidden-text">Lengths to tape</caption>
        <thead>
          <tr>
            <th scope="col">tape</th>
            <th scope="col">should read</th>
            <th scope="col">reads</th>
            <th scope="col">off</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((length) => {
            const read = verdict.lengths.find((one) => isOf(one, length));
            const name = `${length.from} to ${length.to}`;
            return (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>
                  {at(length.mm)}
                  <br />
                  <span class="soft small">
                    {formatPlusMinus(length.allowed, units, {
                      decimals: 1,
                      denominator: 32,
                      keepZeros: true,
                    })}
                  </span>
                </td>
                <td>
                  <LengthField
                    inCell
                    optional
                    finest={32}
                    label={`The tape from ${name}`}
                    value={read?.read ?? null}
                    onChange={(mm) => type(length, mm)}
                  />
                </td>
                <td class={read && Math.abs(read.off) > read.allowed ? 'off' : undefined}>
                  {read &&
                    `${read.off >= 0 ? '+' : '−'}${at(Math.abs(read.off))}${Math.abs(read.off) > read.allowed ? ' !' : ' ✓'}`}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {lengths.length > FIRST && (
        <button type="button" class="button" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? 'Fewer lengths' : 'More lengths: to the edges and ends'}
        </button>
      )}
      <OtherLength measures={measures} onType={type} />
      {old.length > 0 && (
        <details>
          <summary>{old.length === 1 ? 'One reading' : `${old.length} readings`} of a marking before, kept</summary>
          <ul class="small">
            {old.map((reading, i) => (
              <li key={`${i}-${reading.from}`}>
                {reading.from} to {reading.to}: {at(reading.mm)}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** Any other length between two marks or points. */
function OtherLength({
  measures,
  onType,
}: {
  measures: SlabMeasures;
  onType(length: TapeLength, mm: number | null): void;
}) {
  const places = [{ label: 'A', at: measures.datum[0] }, { label: 'B', at: measures.datum[1] }, ...measures.points];
  const [from, setFrom] = useState('A');
  const [to, setTo] = useState('B');
  const options = places.map(({ label }) => [label, label] as const);
  const [p, q] = [from, to].map((name) => places.find(({ label }) => label === name));
  return (
    <details>
      <summary>Another length</summary>
      <div class="row wrap">
        <ChoiceField label="From" options={options} value={from} onChange={setFrom} />
        <ChoiceField label="To" options={options} value={to} onChange={setTo} />
        {p && q && p !== q && (
          <LengthField
            optional
            label="Reads"
            finest={32}
            value={null}
            onChange={(mm) =>
              mm !== null &&
              onType({ from, to, ends: [p.at, q.at], mm, plusMinus: 0, kind: 'points', gradient: [0, 0] }, mm)
            }
          />
        )}
      </div>
    </details>
  );
}

interface SuspectNoteProps {
  store: JobStore;
  marked: MarkedSlab;
  measures: SlabMeasures;
  suspect: Suspect;
  words: string;
  /** Whether something may be moved by it. */
  acts: boolean;
}

/** What may be wrong, and the step that mends it. */
function SuspectNote({ store, marked, measures, suspect, words, acts }: SuspectNoteProps) {
  const units = useUnits();
  return (
    <div class="note stack">
      <p>{words}</p>
      {acts && suspect.kind === 'photo' && (
        <button type="button" class="button main" onClick={() => movePlan(store, marked, suspect.share, suspect.sigma)}>
          Move the plan by the tape
        </button>
      )}
      {acts && suspect.kind === 'mark' && (
        <button
          type="button"
          class="button"
          onClick={() => {
            const i = suspect.label === 'A' ? 0 : 1;
            const [x, y] = measures.datum[i];
            const to = [x + suspect.by[0], y + suspect.by[1]] as const;
            store.edit(`Mark ${suspect.label} is where it was drilled`, (draft) => {
              const own = draft.flitches[marked.flitch]?.slabs[marked.slab.id];
              if (!own) return;
              const marks = measures.datum.map((at, k) => (k === i ? to : at));
              own.marks = structuredClone(marks) as unknown as typeof own.marks;
              if (marked.face === 'bottom') own.marksFace = 'bottom';
              own.drilled ??= 'after';
              ageReadings(own.tapes, suspect.label, [to[0], to[1]]);
            });
            announce(
              `Mark ${suspect.label} is ${lengthWords(Math.hypot(...suspect.by), units)} from where it was. Every tape is measured anew: mark the points again.`,
            );
          }}
        >
          {suspect.label} is where it was drilled
        </button>
      )}
    </div>
  );
}

/** The slab is as large as the tape says, and the plan lies on it so. */
function movePlan(store: JobStore, { flitch, slab, face }: MarkedSlab, share: number, sigma: number): void {
  store.edit('Move the plan by the tape', (draft) => {
    recordScaled(draft, { flitch, slab: slab.id, face }, 1 + share, sigma);
    ageReadings(draft.flitches[flitch]?.slabs[slab.id]?.tapes);
  });
  announce(
    'The slab is as large as the tape says, and the plan lies on it anew. Points marked before are to be marked again.',
  );
}

/** Lengths at points that were marked by the plan of before are readings of that; marks and edges are where they were. */
function ageReadings(tapes: TapeReading[] | undefined, label?: string, at?: [number, number]): void {
  for (const reading of tapes ?? []) {
    const isPoint = (end: string) => end.length < 4 && end !== 'A' && end !== 'B';
    if (isPoint(reading.from) || isPoint(reading.to)) reading.old = true;
    else if (at) {
      if (reading.from === label) reading.ends[0] = at;
      if (reading.to === label) reading.ends[1] = at;
    }
  }
}
