export {
  formatAngle,
  formatArea,
  formatDuration,
  formatForce,
  formatMass,
  formatMoney,
  formatPlusMinus,
  formatPressure,
  formatShare,
  formatThin,
} from './figures';
export { formatLength, parseLength, type UnitSystem } from './length';
export { listed } from './listed';
export { InputProblem, quoted } from './problem';
