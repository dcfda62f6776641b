import { useState } from 'preact/hooks';
import { emcCelsius } from '../../../wood';
import { NumberField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';

/** A heated room (practice, no source). */
const ROOM = { celsius: 21, humidity: 40 };
const toFahrenheit = (celsius: number) => (celsius * 9) / 5 + 32;
const toCelsius = (fahrenheit: number) => ((fahrenheit - 32) * 5) / 9;

/** The site's moisture worked out from its air, for who has a hygrometer and no wood there yet. */
export function SiteAir({ store }: { store: JobStore }) {
  const inches = useUnits() === 'in';
  const [air, setAir] = useState(store.job.peek().shop.siteAir ?? ROOM);
  const moisture = Math.round(emcCelsius(air.celsius, air.humidity) * 10) / 10;
  const taken = store.job.value.shop.siteMoisture === moisture && store.job.value.shop.siteAir !== null;
  return (
    <>
      <div class="fields">
        <NumberField
          label="Air of the site"
          unit={inches ? '°F' : '°C'}
          sign="zero"
          most={inches ? 200 : 95}
          value={Math.round(inches ? toFahrenheit(air.celsius) : air.celsius)}
          onChange={(typed) => setAir({ ...air, celsius: inches ? toCelsius(typed) : typed })}
        />
        <NumberField
          label="Its humidity"
          unit="%"
          sign="zero"
          most={98}
          value={air.humidity}
          onChange={(humidity) => setAir({ ...air, humidity })}
        />
      </div>
      <button
        type="button"
        class="button"
        disabled={taken}
        onClick={() =>
          store.edit('Moisture of the site by its air', ({ shop }) => {
            shop.siteMoisture = moisture;
            shop.siteAir = air;
          })
        }
      >
        {taken ? `${moisture} % is taken from this air` : `Take ${moisture} %, what wood comes to in this air`}
      </button>
      <p class="small soft">Wood Handbook, Table 4-2. Real wood departs from it by about 1 %.</p>
    </>
  );
}
