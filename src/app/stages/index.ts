import { CuttingMap, mapMark } from './cutting-map';
import { Flattening, flatteningMark } from './flattening';
import { Keys, keysMark } from './keys';
import { Layout, layoutMark } from './layout';
import { Leaves, leavesMark } from './leaves';
import type { Stage } from './stage';
import { Stock, stockMark } from './stock';
import { TopsAndDoors, topsMark } from './tops-and-doors';

/** The stages in the order of the work. */
export const STAGES: readonly [Stage, ...Stage[]] = [
  { id: 'stock', name: 'Stock', mark: stockMark, Screen: Stock },
  { id: 'tops', name: 'Tops and doors', mark: topsMark, Screen: TopsAndDoors },
  { id: 'layout', name: 'Layout', mark: layoutMark, Screen: Layout },
  { id: 'flattening', name: 'Flattening', mark: flatteningMark, Screen: Flattening },
  { id: 'keys', name: 'Keys', mark: keysMark, Screen: Keys },
  { id: 'leaves', name: 'Leaves', mark: leavesMark, Screen: Leaves },
  { id: 'map', name: 'Cutting map', mark: mapMark, Screen: CuttingMap },
];
