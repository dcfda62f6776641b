import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import { shapes } from '../../job';
import { formatLength, InputProblem, parseLength } from '../../units';
import { useUnits } from './job-context';
import { TypedField } from './typed-field';

/** What a length or number may be: above zero, zero too, or below zero as well. */
type Sign = 'positive' | 'zero' | 'any';

interface Common<T> {
  label: string;
  value: T;
  onChange(value: T): void;
  sign?: Sign;
  inCell?: boolean;
}

type Maybe<O> = O extends true ? number | null : number;

/**
 * A length in mm inside, typed and shown in the job's units; what was typed is read back in both. With `optional`, an empty field is null; with `soon`,
 * it counts as soon as nobody types on.
 */
export function LengthField<O extends boolean = false>(
  props: Common<Maybe<O>> & { optional?: O; soon?: boolean; finest?: 16 | 32; decimals?: number },
) {
  const units = useUnits();
  const { label, value, onChange, optional, sign = 'positive', inCell, soon, finest, decimals } = props;
  const style = { ...(finest && { denominator: finest }), ...(decimals !== undefined && { decimals }) };
  const inBoth = (mm: number) =>
    [units, units === 'mm' ? 'in' : 'mm'].map((one) => formatLength(mm, one as typeof units, { ...style, unit: true }));
  return (
    <TypedField<number | null>
      label={label}
      unit={units}
      value={value}
      inputMode={units === 'mm' ? 'decimal' : 'text'}
      {...(inCell && { inCell })}
      print={(mm) => (mm === null ? '' : formatLength(mm, units, { ...style, as: 'typed' }))}
      {...(soon && { soon })}
      echo={(mm) => (mm === null ? '' : inBoth(mm).join(' = '))}
      read={(text) => (isBlank(text, optional) ? null : signed(parseLength(text, units), sign))}
      onChange={(mm) => onChange(mm as Maybe<O>)}
    />
  );
}

/** Figures as a person types them: neither 0x10 nor 1e5, which programs read as numbers too. */
const FIGURES = /^[+-]?(\d+\.?\d*|\.\d+)$/;

/** A plain number: per cent, money, a count. With `optional`, an empty field is null. */
export function NumberField<O extends boolean = false>(
  props: Common<Maybe<O>> & { optional?: O; unit?: string; whole?: boolean; least?: number; most?: number },
) {
  const { label, value, onChange, optional, sign = 'positive', inCell, unit, whole } = props;
  // What the job can keep, where the field sets no narrower bounds.
  const { least = -shapes.MOST, most = shapes.MOST } = props;
  function read(text: string): number | null {
    if (isBlank(text, optional)) return null;
    const figures = text.trim().replace(',', '.').replace('−', '-');
    if (!FIGURES.test(figures))
      throw new InputProblem('This is not a number.', '', 'Type it in figures, such as 12 or 12.5.');
    const number = Number(figures);
    if (whole && !Number.isInteger(number))
      throw new InputProblem('This must be a whole number.', '', 'Leave out the fraction.');
    if (number > most) throw new InputProblem(`This is over ${most}.`, '', 'Type a smaller number.');
    if (number < least) throw new InputProblem(`This is under ${least}.`, '', 'Type a larger number.');
    return signed(number, sign);
  }
  return (
    <TypedField<number | null>
      label={label}
      {...(unit && { unit })}
      {...(inCell && { inCell })}
      value={value}
      inputMode="decimal"
      print={(number) => (number === null ? '' : String(Number(number.toFixed(3))))}
      read={read}
      onChange={(number) => onChange(number as Maybe<O>)}
    />
  );
}

/** A name or note. With `optional`, it may be left empty. */
export function TextField(props: { label: string; value: string; optional?: boolean; onChange(value: string): void }) {
  const { label, value, optional, onChange } = props;
  function read(text: string): string {
    if (text.trim() === '' && !optional) throw new InputProblem('This must not be empty.', '', 'Type a name.');
    if (text.length > 500) throw new InputProblem('This is over 500 characters.', '', 'Make it shorter.');
    return text.trim();
  }
  return (
    <TypedField label={label} value={value} print={(text) => text} read={read} onChange={onChange} inputMode="text" />
  );
}

/** One of a few values. */
export function ChoiceField<T extends string>(props: {
  label: string;
  value: T;
  options: readonly (readonly [value: T, text: string])[];
  onChange(value: T): void;
  inCell?: boolean;
}) {
  const id = useId();
  return (
    <div class={props.inCell ? 'cell' : 'field'}>
      <label for={id} class={props.inCell ? 'hidden-text' : undefined}>
        {props.label}
      </label>
      <select id={id} value={props.value} onChange={(event) => props.onChange(event.currentTarget.value as T)}>
        {props.options.map(([value, text]) => (
          <option key={value} value={value} selected={value === props.value}>
            {text}
          </option>
        ))}
      </select>
    </div>
  );
}

/** A thing that is so or not. */
export function TickField(props: { label: ComponentChildren; value: boolean; onChange(value: boolean): void }) {
  return (
    <label class="tick">
      <input type="checkbox" checked={props.value} onChange={(event) => props.onChange(event.currentTarget.checked)} />
      <span>{props.label}</span>
    </label>
  );
}

/** Whether an empty field is allowed and empty. @throws InputProblem when it must not be empty */
function isBlank(text: string, optional = false): boolean {
  if (text.trim() !== '') return false;
  if (optional) return true;
  throw new InputProblem('This must not be empty.', '', 'Type a number.');
}

function signed(value: number, sign: Sign): number {
  if (sign === 'positive' && value <= 0)
    throw new InputProblem('This must be more than 0.', '', 'Type a larger number.');
  if (sign === 'zero' && value < 0) throw new InputProblem('This must not be less than 0.', '', 'Leave out the minus.');
  return value;
}
