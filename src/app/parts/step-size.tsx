import { Choices } from './choices';

interface StepSizeProps {
  large: boolean;
  onChange(large: boolean): void;
}

/** Whether one tap moves a thing by a small step or by a large one. */
export function StepSize({ large, onChange }: StepSizeProps) {
  return (
    <Choices<'small' | 'large'>
      label="Steps"
      options={[
        ['small', 'Small steps'],
        ['large', 'Large'],
      ]}
      value={large ? 'large' : 'small'}
      onChange={(next) => onChange(next === 'large')}
    />
  );
}
