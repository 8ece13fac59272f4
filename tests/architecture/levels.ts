// The table of DEVELOPERS.md: what each folder of src may import, types included. Own files are always allowed.

/** Folder → folders it may import. */
const PHYSICS = [
  'num',
  'lamp',
  'library',
  'layout',
  'optics',
  'run',
  'scene',
  'heat',
  'power',
  'beam',
  'hazard',
  'readings',
]
const MAKING = ['drawing', 'solids', 'bill']
const JOB = [...PHYSICS, ...MAKING, 'engine', 'electrothermal', 'files', 'checks']
const REPORT = [...PHYSICS, ...MAKING, 'electrothermal', 'files', 'checks', 'job']

const FOLDERS: Record<string, readonly string[]> = {
  num: [],
  lamp: ['num'],
  library: ['lamp', 'num'],
  layout: ['lamp', 'num'],
  optics: ['num'],
  run: ['num'],
  scene: ['lamp', 'library', 'layout', 'optics', 'num'],
  heat: ['lamp', 'library', 'num'],
  power: ['lamp', 'library', 'num'],
  beam: ['run', 'lamp', 'num'],
  hazard: ['run', 'lamp', 'library', 'num'],
  readings: ['lamp', 'num'],
  engine: ['scene', 'optics', 'run', 'num'],
  electrothermal: ['heat', 'power', 'library', 'lamp', 'num'],
  drawing: ['lamp', 'library', 'layout', 'num'],
  solids: ['lamp', 'library', 'layout', 'num'],
  bill: ['lamp', 'library', 'layout', 'drawing', 'heat', 'power', 'electrothermal', 'num'],
  files: ['lamp', 'layout', 'run', 'beam', 'drawing', 'solids', 'num'],
  checks: PHYSICS,
  job: JOB,
  report: REPORT,
  app: [...REPORT, 'report'],
  cli: [...REPORT, 'report'],
}

/** Inside src/app, again downwards. Folders at the same level never import one another. */
const APP_LEVELS: readonly (readonly string[])[] = [
  ['common', 'frame.ts'],
  ['store'],
  ['actions'],
  ['ui'],
  [
    'plan',
    'section',
    'solid',
    'night',
    'parts',
    'sheet',
    'sweep',
    'optimize',
    'tolerances',
    'readings',
    'compare',
    'power',
    'danger',
    'workshop',
    'handbook',
    'start',
  ],
  ['shell'],
  ['main.tsx'],
]

/** Inside src/engine, downwards. Folders at the same level never import one another; files beside the folders stand above all. */
const ENGINE_LEVELS: readonly (readonly string[])[] = [['forward', 'backward'], ['workers'], ['gpu']]

/** Why an import is refused and what to do instead; null when it is fine. */
export function refusal(from: string, to: string): string | null {
  const [, folder] = from.split('/')
  const [toTop, toFolder] = to.split('/')
  if (/\.(css|json|svg)$/.test(to) && toTop === 'src')
    return toFolder === folder ? null : `a style or table belongs to one folder.`
  if (toTop === 'package.json') return null
  if (toTop === 'shaders')
    return ['app', 'engine'].includes(folder!)
      ? null
      : 'shaders are for src/app and src/engine; their twin is in src/optics.'
  if (toTop !== 'src') return `src imports nothing from ${toTop}: what both need belongs in src.`
  const allowed = FOLDERS[folder!]
  if (!allowed) return `no level for src/${folder}: give it a place in DEVELOPERS.md and tests/architecture/levels.ts.`
  if (toFolder === folder) return refusalWithin(from, to)
  if (allowed.includes(toFolder!)) return null
  if (FOLDERS[toFolder!]?.includes(folder!))
    return `${folder} lies below ${toFolder}: take what you need as an argument, or move it down into src/${folder}.`
  return `${folder} must not know ${toFolder}. It may import ${allowed.join(', ') || 'nothing'}: pass plain data, or move what both need down.`
}

function refusalWithin(from: string, to: string): string | null {
  const [, folder, inner, deeper] = from.split('/')
  const [, , toInner, toDeeper] = to.split('/')
  if (folder === 'engine') return refusalInEngine(from, to)
  if (folder !== 'app') return null
  const ownModel = inner === toInner && toDeeper === 'model'
  if (deeper === 'model' && !ownModel && toInner !== 'common')
    return 'a model is pure: it may import its own folder, app/common and what lies below the screen. Pass the rest in.'
  return refusalInApp(inner!, toInner!)
}

function refusalInEngine(from: string, to: string): string | null {
  const [a, b] = [from.split('/')[2]!, to.split('/')[2]!]
  const level = (name: string) =>
    name.endsWith('.ts') ? ENGINE_LEVELS.length : ENGINE_LEVELS.findIndex((names) => names.includes(name))
  if (level(a) < 0 || level(b) < 0)
    return `no level for src/engine/${level(a) < 0 ? a : b}: give it a place in tests/architecture/levels.ts.`
  if (a === b || a.endsWith('.ts') || level(b) < level(a)) return null
  if (b.endsWith('.ts')) return `engine/${a} lies below the files of src/engine: move what both need into a folder.`
  if (level(a) === level(b)) return `${a} and ${b} stand side by side: move what both need into src/optics or src/run.`
  return `engine/${a} lies below engine/${b}: pass it in from above, or move it down.`
}

function refusalInApp(from: string, to: string): string | null {
  if (from === to) return null
  const level = (name: string) => APP_LEVELS.findIndex((names) => names.includes(name))
  const [a, b] = [level(from), level(to)]
  if (a < 0 || b < 0)
    return `no level for src/app/${a < 0 ? from : to}: give it a place in tests/architecture/levels.ts.`
  if (b < a) return null
  if (a === b) return `${from} and ${to} stand side by side: move what both need down into common, store or ui.`
  return `app/${from} lies below app/${to}: pass it in from above, or move it down.`
}

/** The screen's packages stay in the screen, Node's in what only Node runs. */
export function packageRefusal(from: string, name: string): string | null {
  const folder = from.split('/')[1]!
  const screen = /^(react|react-dom|react-aria-components|three|zustand|zundo|idb-keyval|@react-three\/.*)(\/|$)/.test(
    name,
  )
  if (screen && /^src\/app\/\w+\/model\//.test(from)) return 'a model is pure: no React, no store, no picture.'
  if (screen && folder !== 'app') return 'only src/app may; the rest runs without a screen.'
  const nodeOnly = folder === 'cli' || /(^|[./])node\.ts$|Node\.ts$/.test(from)
  if (name.startsWith('node:') && !nodeOnly)
    return 'this file runs in a browser as well; only src/cli and files called node.ts, *.node.ts or *Node.ts may.'
  return null
}
