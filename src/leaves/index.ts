export {
  type LeafPhoto,
  type LeavesInput,
  type LeavesOutput,
  leavesInput,
  leavesOutput,
  type Panel,
  type PanelOutput,
  type UsedLeaf,
} from './io';
export { type LeafCount, leafCount } from './leaf-count';
