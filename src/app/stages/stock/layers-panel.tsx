import type { Face } from '../../../job';
import { TickField } from '../../parts/fields';
import { TroubleNote } from '../../parts/problem';
import { DrawingCard } from './drawing-card';
import { draw } from './drawn-shapes';
import { editedPath } from './edited-path';
import { grainOf } from './grain-layer';
import { emptyLayer, LAYERS, type Layer, showLayer, shownLayers } from './layers';
import { PointList } from './point-list';
import { Unseen } from './unseen';
import type { StockView, WoodLine } from './view';

/** What of the face is shown, and the wood's own lines to correct: sapwood, pith, grain. */
export function LayersPanel({ view }: { view: StockView }) {
  const face = view.face.value;
  if (view.drawn.value) return <DrawingCard view={view} />;
  if (!face) return null;
  return (
    <div class="stack">
      <fieldset class="layers">
        <legend class="hidden-text">What is shown</legend>
        {LAYERS.map(([layer, name]) => (
          <LayerTick key={layer} view={view} layer={layer} name={name} face={face} />
        ))}
      </fieldset>
      <Unseen face={face} />
      {face.outline ? (
        <>
          <Wood
            view={view}
            title="Sapwood"
            says={sapwoodHelp(face)}
            lines={face.sapwood.map((_, place) => ({ kind: 'sapwood', place }))}
            drawn="sapwood"
            action="Draw a sapwood edge"
          />
          <Wood
            view={view}
            title="Pith"
            says={face.pith ? 'Drag its points.' : 'Draw it where it shows: a long dashed line.'}
            lines={face.pith ? [{ kind: 'pith' }] : []}
            drawn="pith"
            action={face.pith ? 'Draw the pith anew' : 'Draw the pith'}
          />
          <Wood
            view={view}
            title="Grain"
            says="Where the strokes run wrong, draw a line along the grain: they follow it nearby."
            lines={face.grainLines.map((_, place) => ({ kind: 'grain', place }))}
            drawn="grain"
            action="Draw along the grain"
          />
        </>
      ) : (
        <p class="soft small">Sapwood, pith and grain can be drawn once the face has an outline.</p>
      )}
    </div>
  );
}

/** One layer, shown or not, with what there is to see. */
function LayerTick({ view, layer, name, face }: { view: StockView; layer: Layer; name: string; face: Face }) {
  const shown = shownLayers.value.has(layer);
  const says = layer === 'far' ? farSays(view) : (emptyLayer(layer, face) ?? grainSays(view, layer, shown));
  return (
    <div class="layer">
      <TickField
        label={
          <>
            {name} {says && <span class="soft small">{says}</span>}
          </>
        }
        value={shown}
        onChange={(next) => showLayer(layer, next)}
      />
      <span class={`sample ${layer}`} aria-hidden="true" />
      {layer === 'grain' && shown && <TroubleNote trouble={grainOf(view)?.trouble ?? null} />}
    </div>
  );
}

function sapwoodHelp(face: Face): string {
  const help = face.sapwood.length > 0 ? 'Dotted. Drag its points, or draw an edge of your own.' : '';
  return [emptyLayer('sapwood', face) ?? '', help].filter(Boolean).join(' ');
}

const farSays = (view: StockView): string | null =>
  view.place.value?.slab.tie ? null : 'Tie the faces first, under Defects.';

const grainSays = (view: StockView, layer: Layer, shown: boolean): string | null =>
  layer === 'grain' && shown && !grainOf(view) ? 'Being read …' : null;

interface WoodProps {
  view: StockView;
  title: string;
  says: string;
  lines: readonly WoodLine[];
  drawn: WoodLine['kind'];
  action: string;
}

/** The lines of one kind: each to edit or take out, and a way to draw one. */
function Wood({ view, title, says, lines, drawn, action }: WoodProps) {
  const chosen = view.woodLine.value;
  const path = editedPath(view);
  const isChosen = (line: WoodLine) => chosen !== null && placeName(chosen) === placeName(line);
  return (
    <section class="card stack" aria-label={title}>
      <h2>{title}</h2>
      <p class="small soft">{says}</p>
      {lines.length > 0 && (
        <ul class="list">
          {lines.map((line, i) => {
            const name = lines.length > 1 ? `${title} ${i + 1}` : title;
            return (
              <li key={placeName(line)} class="stack">
                <div class="row">
                  <button
                    type="button"
                    class="button"
                    aria-expanded={isChosen(line)}
                    onClick={() => {
                      view.handle.value = null;
                      view.woodLine.value = isChosen(line) ? null : line;
                      showLayer(drawn, true);
                    }}
                  >
                    {isChosen(line) ? 'Done with' : 'Edit'} {name.toLowerCase()}
                  </button>
                  <button
                    type="button"
                    class="button cut"
                    aria-label={`Take out ${name.toLowerCase()}`}
                    onClick={() => takeOut(view, line)}
                  >
                    Take out
                  </button>
                </div>
                {isChosen(line) && path && <PointList view={view} path={path} />}
              </li>
            );
          })}
        </ul>
      )}
      <button
        type="button"
        class="button"
        onClick={() => {
          showLayer(drawn, true);
          draw(view, drawn);
        }}
      >
        {action}
      </button>
    </section>
  );
}

const placeName = (line: WoodLine): string => (line.kind === 'pith' ? line.kind : `${line.kind}-${line.place}`);

function takeOut(view: StockView, line: WoodLine): void {
  view.handle.value = null;
  view.woodLine.value = null;
  view.editFace(line.kind === 'pith' ? 'Take out the pith' : `Take out a line of the ${line.kind}`, (draft) => {
    if (line.kind === 'pith') draft.pith = null;
    else (line.kind === 'sapwood' ? draft.sapwood : draft.grainLines).splice(line.place, 1);
  });
}
