import type { ReferenceDraft } from '../../../../job';
import { LengthField } from '../../../parts/fields';
import type { StockView } from '../view';

/** A length of the reference as a field. */
export function ReferenceLength(props: {
  view: StockView;
  label: string;
  value: number;
  sign?: 'positive' | 'zero' | 'any';
  set(draft: ReferenceDraft, mm: number): void;
}) {
  return (
    <LengthField
      label={props.label}
      value={props.value}
      finest={32}
      decimals={1}
      {...(props.sign && { sign: props.sign })}
      onChange={(mm) => props.view.editReference(props.label, (draft) => props.set(draft, mm))}
    />
  );
}
