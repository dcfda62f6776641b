// Who may import whom. The floors of the house stand here from the top down; DEVELOPERS.md says what each room is for.
const FLOORS = [
  ['app'],
  ['cli'],
  ['cutmap'],
  ['plan'],
  ['layout', 'keys', 'leaves'],
  ['flattening'],
  ['photo'],
  ['grain'],
  ['surface', 'raster', 'search'],
  ['job'],
  ['wood'],
  ['geometry'],
  ['units'],
];

// Each package that only some files may know, so that another could take its place by changing those alone.
const KEEPERS = [
  { packages: ['opencv.js'], path: '^(src/(photo|cli)|workers)/' },
  { packages: ['highs'], path: '^(src/(search|cli)|workers)/' },
  { packages: ['pdf-lib', '@pdf-lib/fontkit', '@tarikjabiri/dxf'], path: '^src/cutmap/' },
  { packages: ['clipper2-ts', 'delaunator'], path: '^src/geometry/' },
  { packages: ['fabric'], path: '^src/app/canvas/drawing\\.ts$' },
  { packages: ['idb-keyval'], path: '^src/app/storage\\.ts$' },
  { packages: ['preact', '@preact/signals'], path: '^src/app/' },
  { packages: ['sharp'], path: '^src/cli/' },
];

const rooms = (names) => `^src/(${names.join('|')})/`;

const downwardOnly = FLOORS.slice(1).flatMap((floor, below) => {
  const above = FLOORS.slice(0, below + 1).flat();
  return {
    name: `${floor.join('-')}-never-upward`,
    comment: `A room imports only from the floors below it: ${floor.join(', ')} may not know ${above.join(', ')}.`,
    severity: 'error',
    from: { path: rooms(floor) },
    to: { path: rooms(above) },
  };
});

const sideways = FLOORS.filter((floor) => floor.length > 1).map((floor) => ({
  name: `${floor.join('-')}-never-sideways`,
  comment: 'Rooms on one floor never import each other; what they share lies below, and they meet above.',
  severity: 'error',
  from: { path: `^src/(${floor.join('|')})/` },
  to: { path: rooms(floor), pathNot: '^src/$1/' },
}));

const keepers = KEEPERS.map(({ packages, path }) => ({
  name: `${packages[0]}-has-one-keeper`,
  comment: `Only ${path} may know ${packages.join(', ')}.`,
  severity: 'error',
  from: { path: '^(src|workers)/', pathNot: [path, '^src/app/build/'] },
  to: { path: packages.map((name) => `(^|node_modules/)${name.replaceAll('.', '\\.')}/`) },
}));

module.exports = {
  forbidden: [
    ...downwardOnly,
    ...sideways,
    ...keepers,
    {
      name: 'by-the-front-door',
      comment: "Neighbours import a room's index.ts only.",
      severity: 'error',
      from: { path: '^src/([^/]+)/' },
      to: { path: '^src/[^/]+/', pathNot: ['^src/$1/', '^src/[^/]+/index\\.ts$'] },
    },
    {
      name: 'workers-by-the-front-door',
      comment: "Workers import a room's index.ts only.",
      severity: 'error',
      from: { path: '^workers/' },
      to: { path: '^src/', pathNot: '^src/[^/]+/index\\.ts$' },
    },
    {
      name: 'workers-never-upward',
      comment: 'Workers carry calls to the rooms; they know neither the screens nor the command line.',
      severity: 'error',
      from: { path: '^workers/' },
      to: { path: '^src/(app|cli)/' },
    },
    {
      name: 'only-app-starts-workers',
      comment: 'The rooms and the command line compute by themselves.',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/app/' },
      to: { path: '^workers/' },
    },
    {
      name: 'cli-and-app-are-apart',
      comment: 'The command line and the screens do the same work by different means.',
      severity: 'error',
      from: { path: '^src/app/' },
      to: { path: '^src/cli/' },
    },
    {
      name: 'every-file-has-a-room',
      comment: 'A new room gets its floor here first.',
      severity: 'error',
      from: { path: '^(src|workers)/' },
      to: { path: '^src/', pathNot: rooms(FLOORS.flat()) },
    },
    {
      name: 'build-helpers-stay-in-the-build',
      comment: 'src/app/build belongs to vite.config.ts and runs in Node.',
      severity: 'error',
      from: { path: '^(src|workers)/', pathNot: '^src/app/build/' },
      to: { path: '^src/app/build/' },
    },
    {
      name: 'pure-rooms-know-no-node',
      comment: 'The same function runs in a worker, in Node and in a test.',
      severity: 'error',
      from: { path: '^(src|workers)/', pathNot: '^src/(cli|app/build)/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'no-test-code',
      comment: 'Tests know the app; the app does not know its tests.',
      severity: 'error',
      from: { path: '^(src|workers)/' },
      to: { path: '^tests/' },
    },
    {
      name: 'no-circle',
      comment: 'Two files that need each other are one file, or three.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'nothing-missing',
      comment:
        'An import that resolves to nothing escapes every other rule. What only Vite can resolve, it checks itself.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: ['^virtual:', '\\?url$'] },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    // Imports of types count too: a type names its room as surely as a function does.
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'browser', 'default', 'types'],
      mainFields: ['module', 'main', 'types'],
    },
  },
};
