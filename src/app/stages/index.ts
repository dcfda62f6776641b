import { late } from './late';
import { flatteningMark, keysMark, layoutMark, leavesMark, mapMark, stockMark, topsMark } from './marks';
import type { Stage } from './stage';

/** The stages in the order of the work. */
export const STAGES: readonly [Stage, ...Stage[]] = [
  { id: 'stock', name: 'Stock', mark: stockMark, Screen: late(async () => (await import('./stock')).Stock) },
  {
    id: 'tops',
    name: 'Tops and doors',
    mark: topsMark,
    Screen: late(async () => (await import('./tops-and-doors')).TopsAndDoors),
  },
  { id: 'layout', name: 'Layout', mark: layoutMark, Screen: late(async () => (await import('./layout')).Layout) },
  {
    id: 'flattening',
    name: 'Flattening',
    mark: flatteningMark,
    Screen: late(async () => (await import('./flattening')).Flattening),
  },
  { id: 'keys', name: 'Keys', mark: keysMark, Screen: late(async () => (await import('./keys')).Keys) },
  { id: 'leaves', name: 'Leaves', mark: leavesMark, Screen: late(async () => (await import('./leaves')).Leaves) },
  {
    id: 'map',
    name: 'Cutting map',
    mark: mapMark,
    Screen: late(async () => (await import('./cutting-map')).CuttingMap),
  },
];
