export { benchLeaves, benchRules, farFaceMap, leafKey } from './bench';
export { type BlankDrawing, blankDrawing, type UsualLine, usualLine } from './blank-drawing';
export { boardReports } from './boards';
export { boardsForDoors, isGone, type OffcutForLeaves, offcutsForLeaves } from './boards-offcuts';
export type { BoardReport, WayCount } from './boards-types';
export { budgetRows, freesWords, lookWords, restWords, sawLength, wayWords } from './boards-words';
export { planReport } from './build';
export { carriesWords } from './carries-words';
export { checkPlan } from './check';
export { planDocument } from './document';
export { DOORS_ALONE } from './doors-alone';
export { type PlanOutput, planOutput } from './io';
export { judgedBefore, seamName } from './joint-made';
export { plansWithKeys, seamKeysAdded } from './kept-keys';
export type { KeyBlanks, KeyWork, SizeWork } from './key-report';
export { screwNotes } from './key-screws';
export { keyWork } from './key-work';
export {
  aheadId,
  boardFaceKey,
  jobAhead,
  type LeafAhead,
  type LeavesAhead,
  lacksForLookAhead,
  leavesAhead,
  type PicturedAhead,
} from './leaves-ahead';
export { servesFor, servicesWords, sparePieces } from './offcut-serves';
export { panelPictures } from './panel-picture';
export { pieceName } from './piece-name';
export { pithWords } from './pith-held';
export { proposals, proposedTop, wouldDoFor } from './proposals';
export { recordBoardFace } from './record-board-face';
export { type ReadLeaf, recordLeaves } from './record-leaves';
export { recordRemeasure } from './record-remeasure';
export { type FacePlace, recordScaled } from './record-scaled';
export { type PhotoPlace, proposeDefects, recordShots, recordTrace, usualPermit } from './record-trace';
export type {
  Areas,
  BlankReport,
  CostReport,
  Cut,
  JobLine,
  PlanReport,
  SlabReport,
  TopReport,
  Verdict,
  WorkStep,
} from './report';
export { sapwoodWords } from './sapwood';
export { frontName, frontReports, leafStack, panelInElevation, setReport } from './set-report';
export type {
  FrontReport,
  GradeReport,
  LeafUse,
  PieceReport,
  PressReport,
  SetReport,
  TapeStep,
  Towards,
} from './set-types';
export { frameRows, gradeRows } from './set-words';
export type { CutSheet, SheetCuts } from './sheet-cuts';
export { type SlabThickness, slabThickness } from './slab-thickness';
export { marksOn } from './slabs';
export { suppliesOf } from './supplies';
export { isTapedOnly, onlyTaped, tapedOnlyWords } from './taped-only';
export { cutFirstRows, helpWords, ruledWords, skipWords, tooLowWords, warpWords } from './thickness-words';
export { keysAsked, keysInHand } from './top-keys';
export { topPicture } from './top-picture';
export { turnedPicture, turnFace } from './turn-leaf';
export { planVersion } from './version';
export { moistureDoubts, stockApart } from './wood-facts';
export type { BlankWood, TopWood } from './wood-report';
export { dryingWords, fixingRows, glueWords, seasonWords, weightWords } from './wood-words';
export { type YardLook, yardLook } from './yard-facts';
export { type SetLine, type SlabLine, type YardReport, yardReport } from './yard-report';
export { setName } from './yard-words';
