import type { KeysOutput } from '../../../keys';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { type KeyBench, whyNone } from './bench';
import type { KeysHand } from './hand';
import { inWords } from './words';

const DEEP = { surface: 'stays at the surface', through: 'goes through', unknown: 'not known whether it goes through' };

/** What is known of the crack in view; of a seam that is decorated, what its keys are for. */
export function CrackCard({ bench, crack, name }: { bench: KeyBench; crack: number; name: string }) {
  const facts = bench.given.cracks.find((each) => each.crack === crack);
  if (!facts) return null;
  return (
    <section class="card stack" aria-label={name}>
      <h2>{name}</h2>
      {bench.top.cracks[crack]?.seam ? (
        <p>Keys over a seam are a decoration: the glue holds it, and what keys hold is counted without them.</p>
      ) : (
        <CrackWords facts={facts} />
      )}
      {facts.notes.map((note) => (
        <p key={note} class="note">
          {note}
        </p>
      ))}
    </section>
  );
}

/** How long, wide and deep a crack is, and what it would do without keys. */
function CrackWords({ facts }: { facts: KeysOutput['cracks'][number] }) {
  const units = useUnits();
  const upper = facts.parts.filter(({ face }) => face === 'top');
  if (upper.length === 0) return null;
  const length = upper.reduce((sum, part) => sum + part.length, 0);
  const widest = Math.max(...upper.map((part) => part.widest));
  const open = upper.some(({ tips }) => tips.some((tip) => tip.open));
  const { opens } = facts;
  return (
    <>
      <p>
        {inWords(length, units)} long, up to {formatLength(widest, units, { unit: true, decimals: 1 })} wide;{' '}
        {DEEP[facts.depth]}
        {open && '; it runs out at the edge'}.
      </p>
      {opens && (
        <p>
          On the way to its place it would {opens.most > 0 ? 'open' : 'close'} by about{' '}
          {formatLength(Math.abs(opens.most > 0 ? opens.most : opens.least), units, { unit: true, decimals: 1 })} at
          most without keys.
        </p>
      )}
    </>
  );
}

/** Where a proposed key is missed, with the reason, and the way to look at the place. Why the crack in view has none at all stands with its keys. */
export function MissedKeys({ bench, hand, nameOf }: { bench: KeyBench; hand: KeysHand; nameOf(i: number): string }) {
  const { refused } = bench.given;
  if (bench.set) return null;
  const bare = whyNone(bench, hand.crack.value).length > 0;
  return (
    <>
      {refused
        .filter(({ crack, at }) => at || !bare || crack !== hand.crack.value)
        .map(({ crack, reason, at, nearest }, k) => (
          <div key={k} class="note stack">
            <p>
              <strong>{nameOf(crack)}:</strong> {reason}
            </p>
            {at && (
              <button
                type="button"
                class="button"
                onClick={() => {
                  const place = nearest ?? at;
                  hand.choose(null, crack);
                  hand.spot.value = { crack, along: bench.room.nearestOn(crack, place).along };
                }}
              >
                {nearest ? 'Look at the nearest place that is clear' : 'Look at the place'}
              </button>
            )}
          </div>
        ))}
    </>
  );
}
