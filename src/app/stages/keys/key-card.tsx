import { useState } from 'preact/hooks';
import { type HandKey, kept } from '../../../keys';
import { formatAngle, formatForce, formatLength, formatShare } from '../../../units';
import { Choices } from '../../parts/choices';
import { LengthField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { StepSize } from '../../parts/step-size';
import type { JobStore } from '../../store';
import { changeKey, dropKey, type KeyBench, numberOf } from './bench';
import type { KeysHand } from './hand';
import { askedWords, besideWords, inWords } from './words';

/** One tap slides a key this far, mm; ten times that in large steps. */
const STEP = 1;
/** One tap turns it this far, degrees; five times that in large steps. */
const TURN = 1;

const FACES = [
  ['top', 'Upper face'],
  ['bottom', 'Under'],
  ['both', 'Both'],
] as const;

interface KeyCardProps {
  store: JobStore;
  bench: KeyBench;
  hand: KeysHand;
}

/** The key that is chosen or held: what it stands off, and everything that can be done with it by taps. */
export function KeyCard({ store, bench, hand }: KeyCardProps) {
  const units = useUnits();
  const [large, setLarge] = useState(false);
  const held = hand.held.value;
  const i = held ? held.i : hand.chosen.value;
  const keys = held?.keys ?? bench.keys;
  const key = i === null ? undefined : keys[i];
  if (i === null || !key) return null;
  const judged = held ? bench.room.judge(keys, i) : bench.judged[i];
  const size = bench.room.sizeOf(key);
  const against = judged?.against;
  const times = large ? 10 : 1;
  const change = (name: string, to: Partial<HandKey>) => changeKey(store, bench, hand, name, i, to);
  const slide = (by: number) => change('Slide a key', { along: key.along + by });
  const turn = (by: number) => change('Turn a key', { turn: key.turn + by });
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });

  return (
    <section class="card stack chosen" aria-label={`Key ${numberOf(bench, i)}`}>
      <div class="row between">
        <h2>Key {numberOf(bench, i)}</h2>
        <button type="button" class="button cut" onClick={() => dropKey(store, bench, hand, i)}>
          Drop it
        </button>
      </div>
      {against ? (
        <p class="note miss">{against}</p>
      ) : (
        <p>Keeps every rule{judged?.depth ? `; its pocket is ${inDepth(judged.depth, units)} deep` : ''}.</p>
      )}
      {against && !held && <NearestPlace bench={bench} i={i} onGo={(along) => change('Slide a key', { along })} />}
      <table class="figures">
        <thead>
          <tr>
            <th scope="col">stands off</th>
            <th scope="col">is</th>
            <th scope="col">rule</th>
          </tr>
        </thead>
        <tbody>
          {(judged?.clearances ?? []).map((each) => (
            <tr key={each.to} class={kept(each) ? undefined : 'breaks'}>
              <th scope="row">{each.to}</th>
              <td>
                {kept(each) ? '' : '✕ '}
                {say(each.mm)}
              </td>
              <td>{askedWords(each, units)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <KeyHold bench={bench} keys={keys} />
      <LengthField
        label="From the left tip of the crack"
        sign="zero"
        value={key.along}
        onChange={(along) => change('Slide a key', { along })}
      />
      <StepSize large={large} onChange={setLarge} />
      <div class="nudges">
        <button type="button" class="button" onClick={() => slide(-STEP * times)}>
          Slide left
        </button>
        <button type="button" class="button" onClick={() => slide(STEP * times)}>
          Slide right
        </button>
        <button type="button" class="button" onClick={() => turn(-TURN * (times > 1 ? 5 : 1))}>
          Turn left
        </button>
        <button type="button" class="button" onClick={() => turn(TURN * (times > 1 ? 5 : 1))}>
          Turn right
        </button>
      </div>
      {key.turn !== 0 && (
        <p class="row between">
          <span>{formatAngle(key.turn)} off square to the crack</span>
          <button type="button" class="button" onClick={() => change('Square to the crack', { turn: 0 })}>
            Square
          </button>
        </p>
      )}
      <Choices
        label="Size"
        options={bench.input.sizes.map(({ id }) => [id, id] as const)}
        value={key.size}
        onChange={(next) => change('Another size of key', { size: next })}
      />
      {size && (
        <p class="small soft">
          {say(size.length)} long, {say(size.end)} wide at the ends, {say(size.waist)} at the waist.
        </p>
      )}
      <Choices
        label="Face"
        options={FACES}
        value={key.face}
        onChange={(face) => change('Key from another face', { face })}
      />
    </section>
  );
}

const inDepth = (mm: number, units: 'mm' | 'in'): string => formatLength(mm, units, { unit: true, decimals: 1 });

/** What the keys hold as they stand now, beside the keys as they are proposed. */
function KeyHold({ bench, keys }: { bench: KeyBench; keys: readonly HandKey[] }) {
  const units = useUnits();
  const hold = keys === bench.keys ? bench.given.hold : bench.room.holds(keys);
  const before = bench.proposed.hold;
  if (hold.keys === null || hold.wood === null) return null;
  const now = Math.min(hold.keys, hold.wood);
  const then = before.keys === null || before.wood === null ? 0 : Math.min(before.keys, before.wood);
  return (
    <p>
      All keys hold about {formatForce(now, units)}
      {then > 0 && (bench.set || keys !== bench.keys) && <>: {formatShare(now / then)} of what the proposed ones do</>}.
    </p>
  );
}

interface NearestPlaceProps {
  bench: KeyBench;
  i: number;
  onGo(along: number): void;
}

/** The nearest place on the crack at which a key would keep every rule, to be gone to by a tap. */
function NearestPlace({ bench, i, onGo }: NearestPlaceProps) {
  const units = useUnits();
  const key = bench.keys[i]!;
  const found = bench.room.nearestFree(bench.keys, i);
  if (found === null) return <p class="small">No place along this crack keeps every rule for this size.</p>;
  const by = found - key.along;
  if (Math.abs(by) < 0.5) return null;
  return (
    <button type="button" class="button" onClick={() => onGo(found)}>
      Slide it {besideWords(by, units)}, where it fits
    </button>
  );
}

/** A place that was tapped on a crack: whether a key fits there, and if not why, and where the nearest one would. */
export function SpotCard({ store, bench, hand, add }: KeyCardProps & { add(along: number): void }) {
  const units = useUnits();
  const spot = hand.spot.value;
  if (!spot || !bench.top.cracks[spot.crack]) return null;
  const { keys, room, input } = bench;
  const size = hand.size.value || keys.find(({ crack }) => crack === spot.crack)?.size || input.sizes[0]?.id || '';
  const face = keys.find(({ crack }) => crack === spot.crack)?.face ?? 'top';
  const list: HandKey[] = [...keys, { crack: spot.crack, along: spot.along, size, face, turn: 0 }];
  const judged = room.judge(list, list.length - 1);
  const against = judged?.against;
  const found = against ? room.nearestFree(list, list.length - 1) : null;
  return (
    <section class="card stack chosen" aria-label="A key here">
      <h2>A key here, {inWords(spot.along, units)} from the left tip?</h2>
      <Choices
        label="Size of a further key"
        options={store.job.value.shop.keySizes.map(({ id }) => [id, id] as const)}
        value={size}
        onChange={(next) => {
          hand.size.value = next;
        }}
      />
      {against ? <p class="note miss">None fits here. {against}</p> : <p>One fits here and keeps every rule.</p>}
      {against && found === null && <p class="small">No place along this crack would do for this size.</p>}
      <div class="row wrap">
        {found !== null && (
          <button type="button" class="button main" onClick={() => add(found)}>
            Add it {besideWords(found - spot.along, units)}, where it fits
          </button>
        )}
        <button type="button" class={against ? 'button' : 'button main'} onClick={() => add(spot.along)}>
          {against ? 'Add it here all the same' : 'Add a key here'}
        </button>
      </div>
    </section>
  );
}
