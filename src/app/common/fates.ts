// Groups of ray fates for the drawings, each with a name, a colour and a line dash.
import { elementsOf } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { FATES, type Fate } from '../../run/types.ts'

export interface FateGroup {
  name: 'out' | 'wall' | 'face' | 'gap' | 'lens' | 'other'
  words: string
  fates: readonly Fate[]
  /** On dark and on light ground. */
  colour: Record<'dark' | 'light', string>
  /** Canvas line dash, px. */
  dash: readonly number[]
}

export const FATE_GROUPS: readonly FateGroup[] = [
  {
    name: 'out',
    words: 'Leaves the lamp',
    fates: ['delivered', 'deliveredViaRiser'],
    colour: { dark: '#ffb65c', light: '#b35c00' },
    dash: [],
  },
  {
    name: 'wall',
    words: 'Absorbed by the tunnel',
    fates: ['wall', 'blocked'],
    colour: { dark: '#7fb4c9', light: '#1c5f7d' },
    dash: [7, 4],
  },
  {
    name: 'face',
    words: 'Absorbed by the face',
    fates: ['face', 'behindFace'],
    colour: { dark: '#b9a2e3', light: '#683c9a' },
    dash: [2, 3],
  },
  {
    name: 'gap',
    words: 'Leaks past an edge',
    fates: ['leakedFaceGap', 'leakedLensGap', 'outsideLens'],
    colour: { dark: '#ef9ab4', light: '#a32554' },
    dash: [11, 3, 2, 3],
  },
  {
    name: 'lens',
    words: 'Lost by the lens',
    fates: ['lensRim', 'lensAbsorbed', 'lensReturnedLost'],
    colour: { dark: '#6fd0bd', light: '#0d6a59' },
    dash: [5, 2, 1, 2],
  },
  {
    name: 'other',
    words: 'Lost in an optic, or cut short',
    fates: ['opticLoss', 'roulette', 'limit', 'lost'],
    colour: { dark: '#9fb0af', light: '#445457' },
    dash: [1, 4],
  },
]

const groupByFate = FATES.map((fate) => FATE_GROUPS.findIndex((g) => g.fates.includes(fate)))
export const groupOfFate = (fate: number): number => groupByFate[fate] ?? FATE_GROUPS.length - 1

/** The groups that are possible for a lamp: without a lens nothing is lost there, without a tunnel there is no wall. */
export function groupsOf(lamp: Lamp): FateGroup[] {
  const { tunnel } = lamp
  const row = elementsOf(lamp)
  const glass = row.some((e) => e.kind !== 'ideal')
  const returns = tunnel !== null || glass
  const can: Record<FateGroup['name'], boolean> = {
    out: true,
    wall: tunnel !== null,
    face: returns,
    gap: tunnel !== null || row.length > 0,
    lens: glass,
    other: returns || lamp.opticTypes.some((o) => o.kind !== 'bare'),
  }
  return FATE_GROUPS.filter((g) => can[g.name])
}

/** Indices of the paths of each group, in the order of FATE_GROUPS. */
export function pathsByGroup(paths: { fate: Uint8Array }): number[][] {
  const groups: number[][] = FATE_GROUPS.map(() => [])
  for (let i = 0; i < paths.fate.length; i++) groups[groupOfFate(paths.fate[i]!)]!.push(i)
  return groups
}
