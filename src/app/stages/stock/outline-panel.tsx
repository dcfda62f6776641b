import { useState } from 'preact/hooks';
import { Choices } from '../../parts/choices';
import { LengthField } from '../../parts/fields';
import { editedPath } from './edited-path';
import { FollowCard } from './hand/follow-card';
import { PointsCard } from './hand/points-card';
import { ScribbleCard } from './hand/scribble-card';
import { SmoothCard } from './hand/smooth-card';
import { TOOLS } from './hand/tools';
import { Unseen } from './unseen';
import type { StockView } from './view';

const CARDS = { points: PointsCard, follow: FollowCard, smooth: SmoothCard, scribble: ScribbleCard };

/** The outline of the face and the tools for it. Without a photo it can be begun as a rectangle. */
export function OutlinePanel({ view }: { view: StockView }) {
  const outline = view.face.value?.outline;
  const path = editedPath(view);
  const face = view.face.value;
  if (!face || !outline || !path) return <OutlineByTape view={view} />;
  const Card = CARDS[view.hand.tool.value];
  return (
    <div class="stack hand">
      <Unseen face={face} />
      <Choices
        label="Tool for the outline"
        options={TOOLS}
        value={view.hand.tool.value}
        onChange={(tool) => view.hand.take(tool)}
      />
      {outline.holes.length > 0 && (
        <Choices
          label="Which edge"
          options={[-1, ...outline.holes.keys()].map(
            (ring) => [ring, ring < 0 ? 'Outer edge' : `Hole ${ring + 1}`] as const,
          )}
          value={view.ring.value}
          onChange={(ring) => {
            view.handle.value = null;
            view.hand.letGo();
            view.ring.value = ring;
          }}
        />
      )}
      <Card view={view} path={path} />
    </div>
  );
}

/** Where there is no photo: a rectangle by tape, to be shaped point by point. */
function OutlineByTape({ view }: { view: StockView }) {
  const [length, setLength] = useState<number | null>(null);
  const [width, setWidth] = useState<number | null>(null);
  return (
    <div class="stack">
      <p>No outline yet. A photo traces it; or begin with a rectangle by tape, and move its points.</p>
      <div class="fields">
        <LengthField<true> optional label="Length" value={length} onChange={setLength} />
        <LengthField<true> optional label="Width" value={width} onChange={setWidth} />
      </div>
      <button
        type="button"
        class="button"
        disabled={length === null || width === null}
        onClick={() => {
          if (length === null || width === null) return;
          view.editFace('Outline by tape', (face) => {
            face.outline = {
              outer: [
                [0, 0],
                [length, 0],
                [length, width],
                [0, width],
              ],
              holes: [],
            };
          });
        }}
      >
        Begin the outline
      </button>
    </div>
  );
}
