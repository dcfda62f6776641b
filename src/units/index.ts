export { InputProblem } from './problem';
