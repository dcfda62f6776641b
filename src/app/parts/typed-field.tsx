import { useEffect, useId, useState } from 'preact/hooks';
import { InputProblem } from '../../units';

/** Nobody types on after so long, ms. */
const PAUSE = 500;

interface TypedFieldProps<T> {
  label: string;
  value: T;
  /** The value as it stands in the field. */
  print(value: T): string;
  /** @throws InputProblem when the text is no such value */
  read(text: string): T;
  onChange(value: T): void;
  /** What the text was read as, where that is worth saying while typing. */
  echo?(value: T): string;
  /** Printed after the label: the unit. */
  unit?: string;
  inputMode?: 'decimal' | 'text';
  /** Passes on what can be read once nobody types on, and not only when the field is left. */
  soon?: boolean;
  /** Shows the label to screen readers only: in a table, where the heading says it. */
  inCell?: boolean;
}

/**
 * A field that is read when it is left or Enter is pressed. What cannot be read stays as it was typed, with a sentence beside
 * it; the job keeps its last good value. Escape goes back to that.
 */
export function TypedField<T>(props: TypedFieldProps<T>) {
  const { label, value, print, read, onChange, echo, unit, inputMode, inCell } = props;
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [left, setLeft] = useState(false);
  const attempt = typed === null ? null : tryRead(read, typed);
  const problem = left && attempt && 'problem' in attempt ? attempt.problem : null;
  const heard = attempt && 'value' in attempt && echo && typed?.trim() ? echo(attempt.value) : '';

  const pending = props.soon && attempt && 'value' in attempt && attempt.value !== value ? attempt : null;
  useEffect(() => {
    if (!pending) return;
    const later = setTimeout(() => onChange(pending.value), PAUSE);
    return () => clearTimeout(later);
  }, [typed, pending === null]);

  function leave() {
    if (!attempt) return;
    setLeft(true);
    if ('problem' in attempt) return;
    setTyped(null);
    if (attempt.value !== value) onChange(attempt.value);
  }

  function onKeyDown(event: KeyboardEvent) {
    if (event.key === 'Enter') leave();
    if (event.key === 'Escape') {
      setTyped(null);
      setLeft(false);
    }
  }

  return (
    <div class={inCell ? 'cell' : 'field'}>
      <label for={id} class={inCell ? 'hidden-text' : undefined}>
        {label}
        {unit && ` (${unit})`}
      </label>
      <input
        id={id}
        type="text"
        inputMode={inputMode === 'text' ? undefined : inputMode}
        autocomplete="off"
        value={typed ?? print(value)}
        // Nothing is being typed: undo is then the job's.
        data-at-rest={typed === null ? '' : undefined}
        aria-invalid={problem ? 'true' : undefined}
        aria-describedby={problem ? `${id}-p` : heard ? `${id}-e` : undefined}
        onInput={(event) => {
          setTyped(event.currentTarget.value);
          setLeft(false);
        }}
        onBlur={leave}
        onKeyDown={onKeyDown}
      />
      {problem && (
        <span id={`${id}-p`} class="problem" role="alert">
          {problem}
        </span>
      )}
      {!problem && heard && heard !== typed?.trim() && (
        <span id={`${id}-e`} class="read">
          = {heard}
        </span>
      )}
    </div>
  );
}

function tryRead<T>(read: (text: string) => T, text: string): { value: T } | { problem: string } {
  try {
    return { value: read(text) };
  } catch (error) {
    if (error instanceof InputProblem) return { problem: `${error.message} ${error.mend}` };
    throw error;
  }
}
