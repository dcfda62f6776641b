export { type JobFile, MOST_BYTES, readJobFile, writeJobFile } from './archive';
export { joinedBytes } from './bytes';
export { CodeReader, MOST_CODES, writeCodes } from './codes';
export {
  DEFAULT_KEY_FIT,
  DEFAULT_PRESSING,
  DEFAULT_RESIN,
  DEFAULT_SAWS,
  DEFAULT_SHOP,
  defaultDoor,
  defaultTop,
  emptyFace,
  emptyFlitch,
  emptyJob,
  emptySlab,
  HAND_SIGMA,
  MARK_DRILL,
  READING_SIGMA,
} from './defaults';
export {
  ARRANGEMENTS,
  type Arrangement,
  type Door,
  type DoorFrame,
  END_MATCHES,
  type EndMatch,
  GRADES,
  type Grade,
  MATCHES,
  type Match,
} from './doors';
export { amend, begin, type Edit, edit, type History, redo, undo } from './edits';
export { type Job, jobSchema, SCHEMA_VERSION } from './job';
export { KEY_RULES, type KeyRuleName, type KeyRules, keyRulesSchema, RHYTHMS } from './key-rules';
export { defectLetters, nextDefectId } from './letters';
export { calledFace, faceKey, findSlab, moistureOf, otherFace, slabKey, slabsInOrder } from './lookup';
export { completed, readJob } from './migrate';
export { filesInHistory, namedFiles } from './named-files';
export { atHand, offerOf } from './offer';
export { type Joint, type Miss, type Placement, type Plan, planSchema, type SetKey, type Strip } from './plans';
export { PORTIONS, type Portion, portionOf } from './portions';
export { CORE_GRAINS, type Pressing } from './pressing';
export { isProposed, NOT_CONFIRMED } from './proposed';
export { checked } from './read';
export type { ReferenceDraft, RodDraft } from './reference-draft';
export { ROUND_SIZES, type RoundSizes, usualTop } from './round-sizes';
export {
  atOdds,
  commonDepth,
  type GrainLine,
  grainLines,
  MEETINGS,
  type Meeting,
  notOneLine,
  RUN_SOURCES,
  type Run,
  runsOf,
} from './runs';
export { type Calibration, calibrationSchema, type Rod, type Scale, scaleSchema } from './scale';
export type {
  Cell,
  CellJoint,
  PanelSet,
  SetFront,
  SetJoint,
  SetMiss,
  SetSpare,
} from './sets';
export * as shapes from './shapes';
export {
  type KeyFit,
  type KeySize,
  type Resin,
  type Router,
  reserveSchema,
  type Saws,
  type Shop,
  type Sled,
  shopSchema,
  sledSchema,
  type Thicknesser,
  type Weights,
} from './shop';
export {
  type Board,
  DEFECT_KINDS,
  type Defect,
  type Face,
  type FaceName,
  type Flitch,
  givenDefect,
  type Leaf,
  type Photo,
  type Picture,
  type Slab,
  type Spot,
  type Taped,
  type TapeReading,
  type WarpRead,
} from './stock';
export { type End, SAPWOOD_WISHES, SWING_WITHIN, type Top, type TopShape } from './wanted';
export { refuseBadTops, topProblems } from './wanted-problems';
export { askedAs, inOnePiece, topGroups, wantedTop, wantedTops } from './wanted-tops';
export { crc32 } from './zip-directory';
