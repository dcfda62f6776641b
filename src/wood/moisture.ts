import { InputProblem } from '../units';

/**
 * Moisture content (%) that wood comes to in air of a temperature and humidity: the equation of Hailwood and Horrobin as fitted
 * by the Wood Handbook, FPL-GTR-190 ch. 4, in its Celsius form (Simpson 1998, FPL-RN-0268). It meets Table 4-2 to 0.06.
 * Real wood departs by about 1 %, and by more while it dries or takes up moisture.
 * @param celsius -5 to 100; the table runs from -1.1 to 99
 * @param rhPercent relative humidity, 0 to 100
 * @throws InputProblem outside these
 */
export function emcCelsius(celsius: number, rhPercent: number): number {
  if (!(celsius >= -5 && celsius <= 100))
    throw new InputProblem(
      `The handbook's table of equilibrium moisture runs from about -1 to 99 °C, and this is ${celsius} °C.`,
      '/celsius',
      'Give a temperature from -5 to 100 °C.',
    );
  if (!(rhPercent >= 0 && rhPercent <= 100))
    throw new InputProblem(`A relative humidity of ${rhPercent} % cannot be.`, '/rh', 'Give one from 0 to 100 %.');
  const t = celsius;
  const h = rhPercent / 100;
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const kh = k * h;
  const dissolved = kh / (1 - kh);
  const hydrated = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh);
  return (1800 / w) * (dissolved + hydrated);
}
