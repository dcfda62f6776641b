import { Choices } from '../../../parts/choices';
import { Progress } from '../../../parts/progress';
import type { StockView } from '../view';
import { takeAway, traceAgain } from './scribble';

/** Strokes that say what is wood and what is not, and the outline traced again by them. */
export function ScribbleCard({ view }: { view: StockView }) {
  const face = view.face.value;
  const reading = view.reading.value;
  if (!face) return null;
  const byHand = face.outlineByHand;
  return (
    <div class="stack">
      <p class="small soft">
        Draw on the wood that the outline leaves out, or on what it takes in and is no wood; then trace again. Two taps
        make a stroke, too; two fingers move the sheet.
      </p>
      <Choices
        label="The next stroke says"
        options={[
          ['wood', <Named key="wood" kind="wood" />],
          ['not wood', <Named key="not wood" kind="not wood" />],
        ]}
        value={view.hand.kind.value}
        onChange={(kind) => {
          view.hand.kind.value = kind as 'wood' | 'not wood';
        }}
      />
      {face.strokes.length > 0 && (
        <ol class="list plain" aria-label="Strokes">
          {face.strokes.map(({ kind }, i) => (
            <li key={i} class="list-row">
              <span class="letter">{i + 1}</span>
              <Named kind={kind} />
              <button
                type="button"
                class="button cut"
                aria-label={`Take away stroke ${i + 1}, ${kind}`}
                onClick={() => takeAway(view, i)}
              >
                Take away
              </button>
            </li>
          ))}
        </ol>
      )}
      {reading ? (
        <Progress label={reading.label} fraction={reading.fraction} note={reading.note} onStop={reading.stop} />
      ) : (
        <>
          {byHand && (
            <p class="note miss small" id="by-hand">
              Your edits along the edge will be replaced. Undo brings them back.
            </p>
          )}
          {!face.picture && <p class="small soft">This face has no picture to trace.</p>}
          <button
            type="button"
            class="button main"
            aria-describedby={byHand ? 'by-hand' : undefined}
            disabled={!face.picture}
            onClick={() => void traceAgain(view)}
          >
            {byHand ? 'Trace again, replace my edits' : 'Trace again'}
          </button>
        </>
      )}
    </div>
  );
}

/** A kind of stroke with how it is drawn. */
function Named({ kind }: { kind: 'wood' | 'not wood' }) {
  return (
    <span class="row tight">
      <span class={`sample ${kind === 'wood' ? 'stroke-wood' : 'stroke-not-wood'}`} aria-hidden="true" />
      {kind === 'wood' ? 'Wood' : 'Not wood'}
    </span>
  );
}
