// What the contactor, relay or switch in the main wire must carry, and the relay of each group: by mode, since a lamp that never runs its
// strongest mode needs less. References: [1] IEC 60059, standard current ratings: the R10 series, 1 1.25 1.6 2 2.5
// 3.15 4 5 6.3 8 × 10ⁿ A (memory).

import { isGroupOn } from '../lamp/groups.ts'
import { ownEntry } from '../lamp/ownEntry.ts'
import type { Power } from '../lamp/schema.ts'
import type { Channel } from './channels.ts'
import { type Inrush, inrushOf } from './fault.ts'
import type { WorstCase, WorstPoint } from './worstCase.ts'

const R10 = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8] as const
/** A lasting load takes four fifths of a rating at most, as with fuses (common practice, no source). */
const SWITCH_FACTOR = 1.25
/** Current that contacts bear while they close, of their rating: IEC 60947-4-1, DC-3 (memory). */
export const USUAL_MAKES = 4

export interface SwitchNeed {
  modeId: string
  mode: string
  /** Largest lasting current, A: at the emptiest supply, cold. */
  amps: number
  /** The smallest standard rating [1] for this lasting current, A. */
  ratingA: number
  /** Direct voltage that it must break: the full supply's. */
  volts: number
}

/** The smallest standard rating [1] of at least so many amperes; 1 A for no current. */
export function standardRatingA(leastA: number): number {
  if (!(leastA > 0)) return R10[0]
  const decade = 10 ** Math.floor(Math.log10(leastA) + 1e-12)
  const found = R10.find((r) => r * decade >= leastA * (1 - 1e-9))
  return Number(((found ?? 10) * decade).toPrecision(3))
}

/** Rating (A) and direct voltage (V) that the switch of one mode needs, for its largest lasting current. */
export const makeSwitchNeed = (modeId: string, mode: string, amps: number, volts: number): SwitchNeed => ({
  modeId,
  mode,
  amps,
  ratingA: standardRatingA(SWITCH_FACTOR * amps),
  volts,
})

/** What switches one group, and what it must carry. */
export interface GroupNeed {
  id: string
  name: string
  boards: number
  channels: number
  /** Into the group, A: what lasts in each mode; null: off there. Without a relay its drivers idle where it is not lit. */
  byMode: { id: string; name: string; amps: number | null; isLit: boolean }[]
  /** The largest that lasts, and that for an instant. */
  lastingA: WorstPoint
  peakA: WorstPoint
  /** The smallest standard rating [1] for it, A, and the direct voltage to break, V. */
  ratingA: number
  volts: number
  /** When its relay closes on the full supply. */
  inrush: Inrush
  relay: Power['groups'][number]['relay'] | null
}

/** Whether a mode gives a group current; true in one that the document doesn't name. */
function isLitIn({ modes }: Power, modeId: string, group: string): boolean {
  const mode = modes.find((m) => m.id === modeId)
  return !mode || (isGroupOn(mode, group) && (ownEntry(mode.groupA, group) ?? mode.share) > 0)
}

/** Of each group with boards, in the order of the channels: currents by mode (A), and the rating and direct voltage (V) that its relay needs. */
export function groupNeeds(power: Power, channels: readonly Channel[], worst: WorstCase): GroupNeed[] {
  return worst.groups.flatMap(({ id, lastingA, peakA }): GroupNeed[] => {
    const own = channels.filter((c) => c.group.id === id)
    const group = own[0]?.group
    if (!group) return []
    return [
      {
        ...{ id, name: group.name, channels: own.length, lastingA, peakA },
        boards: own.reduce((sum, c) => sum + c.boards.length, 0),
        byMode: worst.modes.map((m) => ({
          ...{ id: m.id, name: m.name },
          amps: m.groupsA.find((g) => g.id === id)?.lastingA ?? null,
          isLit: isLitIn(power, m.id, id),
        })),
        ratingA: standardRatingA(SWITCH_FACTOR * lastingA.value),
        volts: worst.fullV,
        inrush: inrushOf(
          power,
          own.map((c) => c.driver.id),
          group,
        ),
        relay: group.relay ?? null,
      },
    ]
  })
}
