export { planReport } from './build';
export { checkPlan } from './check';
export { type PhotoPlace, recordTrace } from './record-trace';
export type {
  Areas,
  BlankReport,
  BoardReport,
  CostReport,
  Cut,
  JobLine,
  PlanReport,
  SlabReport,
  TopReport,
  Verdict,
  WorkStep,
} from './report';
