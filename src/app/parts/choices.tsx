import type { ComponentChildren } from 'preact';

interface ChoicesProps<T> {
  /** What is chosen here, for those who do not see it. */
  label: string;
  value: T;
  options: readonly (readonly [value: T, text: ComponentChildren])[];
  onChange(value: T): void;
  /** Stands over what it switches, with a line below. */
  tabs?: boolean;
}

/** A few buttons of which one is pressed. */
export function Choices<T extends string | number>({ label, value, options, onChange, tabs }: ChoicesProps<T>) {
  return (
    <fieldset class={tabs ? 'choices tabs' : 'choices'}>
      <legend class="hidden-text">{label}</legend>
      {options.map(([option, text]) => (
        <button
          key={option}
          type="button"
          class="button"
          aria-pressed={option === value}
          onClick={() => onChange(option)}
        >
          {text}
        </button>
      ))}
    </fieldset>
  );
}
