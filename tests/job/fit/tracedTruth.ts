// What a meter would read of lamps with one known fault, for tests of the fit: the seven boards of toyLamp.ts (invented), traced backwards with 2²⁰ rays
// for each place and a seed of its own. The long form of tracedRecovery.test.ts traces them anew.
import type { CauseKey } from '../../../src/job/fit/cause.ts'
import { withCause } from '../../../src/job/fit/causes.ts'
import type { Readings } from '../../../src/lamp/readings.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { places, toyLamp } from './toyLamp.ts'

export interface KnownFault {
  key: CauseKey
  value: number
  board?: string
  words: string
  /** In the order of the points of `tracedPlaces`. */
  lx: readonly number[]
}

const ACROSS = [-800, -600, -300, 0, 300, 600, 800]
const UP = [-600, -300, 300, 600]

/** A line across, a shorter one up, two places on the axis. */
export function tracedPlaces(): Readings {
  const empty = places()
  const row = (atMm: number) => ({ atMm, lx: 1 })
  return {
    ...empty,
    sets: empty.sets.map((set) => {
      if (set.kind === 'line') return { ...set, rows: (set.along === 'across' ? ACROSS : UP).map(row) }
      return set.kind === 'axis' ? { ...set, rows: set.rows.filter((r) => r.distanceM !== 12) } : set
    }),
  }
}

export function faulty({ key, value, board }: Pick<KnownFault, 'key' | 'value' | 'board'>): Lamp {
  const built = withCause(toyLamp(), { key, board }, value)
  if (!built.ok) throw new Error(built.why.join(' '))
  return built.lamp
}

export const KNOWN_FAULTS: readonly KnownFault[] = [
  {
    key: 'lensDistance',
    value: 1062,
    words: 'the lens 12 mm too far',
    lx: [406, 6876, 27420, 30090, 27450, 6889, 404.6, 4311, 26450, 26500, 4316, 126100, 7756],
  },
  {
    key: 'dark',
    value: 1,
    board: 'B3',
    words: 'a board is dark',
    lx: [563.9, 6920, 23820, 27830, 26550, 7063, 561.2, 2487, 15310, 25940, 4964, 107700, 7300],
  },
  {
    key: 'flux',
    value: 0.94,
    words: '6 % of flux missing',
    lx: [530.4, 6617, 24950, 28010, 24960, 6640, 527.9, 4670, 24370, 24380, 4666, 115200, 6967],
  },
  {
    key: 'tiltY',
    value: 1.5,
    words: 'the lens tilted by 1.5°',
    lx: [488.8, 6969, 26600, 29730, 26520, 7139, 618.3, 4959, 25900, 25890, 4956, 122400, 7418],
  },
]
