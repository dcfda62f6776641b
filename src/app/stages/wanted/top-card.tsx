import type { ComponentChildren } from 'preact';
import { inOnePiece, type Top, topProblems } from '../../../job';
import { formatLength, type InputProblem, type UnitSystem } from '../../../units';
import { ChoiceField, LengthField, NumberField, TextField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { EdgeFields } from './edge-fields';
import { topEditor } from './edit-top';
import { GrainFields } from './grain-fields';
import { ShapeFields } from './shape-fields';
import { WallFields } from './wall-fields';
import { ZoneFields } from './zone-fields';
import { zonesOf } from './zones';

const FRONTS = [
  ['live', 'live edge'],
  ['straight', 'straight'],
] as const;

/** The line that is screwed fast; the rest of the depth slides. */
const FAST = [
  ['front', 'its front edge'],
  ['middle', 'its middle'],
  ['back', 'its back edge'],
] as const;

const SAPWOOD = [
  ['wanted', 'wanted'],
  ['allowed', 'may show'],
  ['not', 'not wanted'],
] as const;

/** One wanted top. */
export function TopCard({ store, top }: { store: JobStore; top: Top }) {
  const units = useUnits();
  const editor = topEditor(store, top);
  const { set } = editor;
  const problems = topProblems(store.job.value, top);
  const under = (...fields: string[]) =>
    problems.filter(({ where }) => fields.some((field) => where.startsWith(`/tops/${top.id}/${field}`)));
  const [least, most] = top.depth;
  const setDepth = set('depth', 'Depth');
  return (
    <section class="card stack" aria-label={top.name}>
      <Proposed top={top} />
      <div class="fields">
        <TextField label="Name" value={top.name} onChange={set('name', 'Name')} />
        <NumberField whole label="How many" most={50} value={top.count} onChange={set('count', 'Number')} />
        <ChoiceField label="Front edge" value={top.front} options={FRONTS} onChange={set('front', 'Front edge')} />
        <LengthField label="Length" value={top.length} onChange={set('length', 'Length')} />
        {/* The other end of the band follows rather than refuse a figure that is meant. */}
        <LengthField
          label="Depth, at least"
          value={least}
          onChange={(next) => setDepth([next, Math.max(next, most)])}
        />
        <LengthField label="Depth, at most" value={most} onChange={(next) => setDepth([Math.min(next, least), next])} />
        <LengthField
          label="Finished thickness"
          finest={32}
          value={top.thickness}
          onChange={set('thickness', 'Thickness')}
        />
        <NumberField
          whole
          sign="zero"
          most={4}
          label="Seams, at most"
          value={top.seams}
          onChange={set('seams', 'Seams')}
        />
        <ChoiceField label="Sapwood" value={top.sapwood} options={SAPWOOD} onChange={set('sapwood', 'Sapwood')} />
        <ChoiceField label="Screwed fast at" value={top.fast} options={FAST} onChange={set('fast', 'Fixing')} />
        <LengthField label="Narrowest strip" value={top.leastStrip} onChange={set('leastStrip', 'Narrowest strip')} />
      </div>
      <Problems of={under('leastStrip')} />
      {top.seams > 0 && inOnePiece(top) && (
        <p class="small soft">
          It is laid out in one piece: its live back or end, or its grain, leaves no seam along it.
        </p>
      )}
      <More label="Edges and ends" says={edgeWords(top, units)} problems={under('ends', 'swing')}>
        <EdgeFields top={top} editor={editor} />
      </More>
      <More label="Shape" says={top.shape?.kind ?? ''} problems={under('shape')}>
        <ShapeFields top={top} editor={editor} />
      </More>
      <More
        label="Hidden parts, seams and holes"
        says={zonesOf(top).length > 0 ? String(zonesOf(top).length) : ''}
        problems={under('covered', 'noSeam', 'cutOuts')}
      >
        <ZoneFields top={top} editor={editor} />
      </More>
      <More label="Walls" says={wallWords(top, units)} problems={[]}>
        <WallFields top={top} editor={editor} />
      </More>
      <More label="Grain and looks" says={grainWords(top)} problems={[]}>
        <GrainFields top={top} editor={editor} />
      </More>
      <button
        type="button"
        class="button cut"
        onClick={() =>
          store.edit(`Take out ${top.name}`, (draft) => {
            delete draft.tops[top.id];
          })
        }
      >
        Take it out
      </button>
    </section>
  );
}

/** Said of a size that nobody typed, for as long as the top has it. */
function Proposed({ top: { proposed, length, depth, thickness } }: { top: Top }) {
  const asIs =
    proposed?.length === length &&
    proposed.depth[0] === depth[0] &&
    proposed.depth[1] === depth[1] &&
    proposed.thickness === thickness;
  return asIs ? <p class="small note">{PROPOSED[proposed.from]} Only a proposal: type over any figure.</p> : null;
}

const PROPOSED = {
  habit: 'A usual size.',
  slabs: 'A usual size, and your slabs give it.',
  most: 'As large as your slabs give, in round figures.',
  none: 'A usual size. No place for a top was found on your slabs.',
} as const;

/** What is wrong, by the field that it is about. */
function Problems({ of }: { of: readonly InputProblem[] }) {
  return (
    <>
      {of.map(({ where, message, mend }) => (
        <p key={where} class="problem" role="alert">
          {message} {mend}
        </p>
      ))}
    </>
  );
}

/** Fields that few tops need, opened when asked for. What is set, and what is wrong there, is said while they are closed. */
function More(props: { label: string; says: string; problems: readonly InputProblem[]; children: ComponentChildren }) {
  return (
    <>
      <details>
        <summary>
          {props.label}
          {props.says && <span class="soft">: {props.says}</span>}
        </summary>
        {props.children}
      </details>
      <Problems of={props.problems} />
    </>
  );
}

const edgeWords = ({ back, ends, swing, shape }: Top, units: UnitSystem): string =>
  shape
    ? ''
    : [
        ...(back === 'live' ? ['live back'] : []),
        ...(['left', 'right'] as const).flatMap((side) =>
          ends[side].edge === 'live'
            ? [`${side} end live`]
            : ends[side].degrees === 90
              ? []
              : [`${side} end ${ends[side].degrees}°`],
        ),
        ...(swing === null ? [] : [`swing ${formatLength(swing, units)}`]),
      ].join(', ');

function wallWords({ scribe, wallBow }: Top, units: UnitSystem): string {
  const parts = [
    ['back', scribe.back + wallBow],
    ['left', scribe.left],
    ['right', scribe.right],
  ] as const;
  return parts
    .filter(([, mm]) => mm > 0)
    .map(([side, mm]) => `${side} ${formatLength(mm, units)}`)
    .join(', ');
}

const grainWords = ({ grain, liked }: Top): string =>
  [...(grain ? [`${grain.degrees}° ± ${grain.tolerance}°`] : []), ...liked].join(', ');
