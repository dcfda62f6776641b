export { WorkBudget } from './budget';
export { type Candidate, type Choice, type ChoiceInput, type Highs, solveChoice } from './choice';
export { Cancelled, type Control, pause, stage, unwatched } from './control';
export { type Random, seededRandom } from './random';
