import { NumberField } from './fields';
import { useStore } from './job-context';

interface Known {
  label?: string;
  value: number | null;
  onChange(value: number | null): void;
}

/** Moisture of wood, of its dry weight; green wood may hold more water than wood. */
export function MoistureField({ label = 'Moisture', ...known }: Known) {
  return <NumberField<true> optional sign="zero" most={300} label={label} unit="%" {...known} />;
}

/** What a piece of stock costs, in the job's currency. */
export function PriceField(known: Known) {
  return <NumberField<true> optional sign="zero" label="Price" unit={useStore().job.value.currency} {...known} />;
}
