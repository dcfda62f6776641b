import { checked, KEY_RULES, type KeyRuleName, type KeyRules, keyRulesSchema, RHYTHMS } from '../../../job';
import { formatLength, InputProblem, parseLength, type UnitSystem } from '../../../units';
import { ChoiceField, TickField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { TypedField } from '../../parts/typed-field';
import type { JobStore } from '../../store';

const NAMES = Object.keys(KEY_RULES) as KeyRuleName[];

/** Rules about the depth of a pocket stand in an object of their own. */
const OF_DEPTH = ['least', 'wanted', 'most', 'floor'] as const;
type OfDepth = (typeof OF_DEPTH)[number];
const isOfDepth = (name: KeyRuleName): name is OfDepth => OF_DEPTH.some((each) => each === name);

const RHYTHM_SAYS: Readonly<Record<(typeof RHYTHMS)[number], string>> = {
  even: 'Evenly spaced',
  graded: 'Closer where the crack is wider',
  odd: 'An odd number, evenly spaced',
  mirrored: 'Mirrored over a book-matched seam',
};

/** The rules as they stand for this shop. */
const rulesOf = (store: JobStore): KeyRules => store.job.value.shop.keyRules ?? checked(keyRulesSchema, {});

const figureOf = (rules: KeyRules, name: KeyRuleName): number | null =>
  (isOfDepth(name) ? rules.depth[name] : rules[name]) ?? null;

/** The rules with one of them changed; null leaves it out. @throws InputProblem where they cannot stand together */
function withRule(rules: KeyRules, name: KeyRuleName, value: number | null): KeyRules {
  const next = isOfDepth(name)
    ? { ...rules, depth: { ...rules.depth, [name]: value ?? 0 } }
    : { ...rules, [name]: value ?? undefined };
  if (next.leastSpacing > next.spacing)
    throw new InputProblem(
      'The least distance between two keys would be over the most.',
      '',
      'Change the other first.',
    );
  const { least, wanted, most } = next.depth;
  if (!(least <= wanted && wanted <= most))
    throw new InputProblem(
      'The depth aimed at would not lie between the least and the most.',
      '',
      'Change the other one first.',
    );
  return checked(keyRulesSchema, JSON.parse(JSON.stringify(next)));
}

/** The rules that keys are placed by: each with where it comes from, to be changed, and put back. */
export function RulesCard({ store }: { store: JobStore }) {
  const rules = rulesOf(store);
  const changed = NAMES.filter((name) => figureOf(rules, name) !== KEY_RULES[name].standard).length;
  const put = (name: string, next: KeyRules) =>
    store.edit(name, ({ shop }) => {
      shop.keyRules = next;
    });
  return (
    <details class="card">
      <summary>Rules for the keys{changed > 0 && `, ${changed} of them your own`}</summary>
      <div class="stack">
        <p class="small soft">
          Sources disagree about keys and there is no standard, so every rule is yours to change. Proposed keys follow
          at once; keys that you set stay, and say which rule they break.
        </p>
        <ChoiceField
          label="Rhythm along a crack"
          value={rules.rhythm}
          options={RHYTHMS.map((each) => [each, RHYTHM_SAYS[each]] as const)}
          onChange={(rhythm) => put('Rhythm of the keys', { ...rules, rhythm })}
        />
        <TickField
          label="Sizes may be mixed along one crack, larger where it is wider"
          value={rules.mixed}
          onChange={(mixed) => put('Sizes mixed along a crack', { ...rules, mixed })}
        />
        {NAMES.map((name) => (
          <RuleField key={name} name={name} rules={rules} onChange={(next) => put('Rule for the keys', next)} />
        ))}
      </div>
    </details>
  );
}

/** In brackets stands what only the command line needs to be told. */
const spoken = (says: string): string => says.replace(/ \([^)]*\)/, '');

interface RuleFieldProps {
  name: KeyRuleName;
  rules: KeyRules;
  onChange(rules: KeyRules): void;
}

function RuleField({ name, rules, onChange }: RuleFieldProps) {
  const units = useUnits();
  const { says, unit, standard, source } = KEY_RULES[name];
  const value = figureOf(rules, name);
  const said = UNIT_SAYS[unit] || (unit === 'mm' ? units : '');
  const words = (number: number | null) => (number === null ? 'left out' : `${printed(unit, number, units)} ${said}`);
  return (
    <div class="rule stack tight">
      <TypedField<number | null>
        label={spoken(says)}
        unit={said}
        value={value}
        inputMode={unit === 'mm' && units === 'in' ? 'text' : 'decimal'}
        print={(number) => (number === null ? '' : printed(unit, number, units))}
        read={(text) => {
          const number = typed(text, unit, units, standard === null);
          // What cannot stand beside the other rules is refused here, beside the field.
          withRule(rules, name, number);
          return number;
        }}
        onChange={(number) => onChange(withRule(rules, name, number))}
      />
      <p class="small soft">From: {source}.</p>
      {value !== standard && (
        <button type="button" class="button" onClick={() => onChange(withRule(rules, name, standard))}>
          Back to {words(standard)}
        </button>
      )}
    </div>
  );
}

const UNIT_SAYS: Readonly<Record<string, string>> = {
  lengths: 'lengths of the key',
  times: 'times',
  degrees: '°',
  'share of thickness': '% of the thickness',
};

/** Of what is typed. */
const MOST: Readonly<Record<string, number>> = { degrees: 90, 'share of thickness': 100 };

const printed = (unit: string, number: number, units: UnitSystem): string =>
  unit === 'mm'
    ? formatLength(number, units, { as: 'typed' })
    : String(Math.round(number * (unit === 'share of thickness' ? 100 : 1) * 10) / 10);

/** @throws InputProblem when the text is no such figure */
function typed(text: string, unit: string, units: UnitSystem, optional: boolean): number | null {
  if (optional && text.trim() === '') return null;
  if (unit === 'mm') return parseLength(text, units);
  const number = Number(text.trim().replace(',', '.'));
  if (text.trim() === '' || !Number.isFinite(number))
    throw new InputProblem('This is not a number.', '', 'Type it in figures, such as 1.5.');
  if (number < 0) throw new InputProblem('This must not be less than 0.', '', 'Leave out the minus.');
  const most = MOST[unit];
  if (most !== undefined && number > most)
    throw new InputProblem(`This is over ${most}.`, '', 'Type a smaller number.');
  return unit === 'share of thickness' ? number / 100 : number;
}
