// The power-up list: what to check before and while a built lamp is first connected, channel by channel.

import type { Power } from '../lamp/schema.ts'
import { inEither } from '../num/quantity.ts'
import type { Channel } from './channels.ts'
import type { WireRun } from './schedule.ts'

export interface PowerUpItem {
  /** Stored in the lamp's file when ticked. */
  key: string
  channel: string | null
  step: string
  what: string
  /** Its figure alone, for a cell of a table; empty where it has none. */
  short: string
  done: boolean
  /** The run whose fuse it is about. */
  fuseOf: string | null
}

/** Rise over the start, K: of a sound channel, and with a fault. */
export interface WarmUpBand {
  fromK: number
  toK: number
  /** At twice the current, and with a dry joint between board and plate. */
  twiceK: number
  dryK: number
}

/** One reading, so many seconds after switch-on. */
export interface WarmUp {
  atS: number
  /** Of the plate beside the board, and of the board's metal by its emitters. */
  plate: WarmUpBand
  board: WarmUpBand
}

const three = (x: number) => Number(x.toPrecision(3))

export interface PowerUpFacts {
  power: Power
  channels: readonly Channel[]
  wiring: readonly WireRun[]
  /** Across each channel's boards, cold, at its least and full current. */
  volts: readonly { lowV: number; fullV: number; lowA: number; fullA: number }[]
  /** Of each channel, what a thermometer should show and what it shows with a fault. */
  warmUp: ReadonlyMap<string, readonly WarmUp[]>
  done: readonly string[]
}

/**
 * The list of checks, for the lamp as a whole and then channel by channel, in the order to do them; ticked where
 * `done` has the key. Order and wording: common practice, no source.
 */
export function makePowerUpList({ power, channels, wiring, volts, warmUp, done }: PowerUpFacts): PowerUpItem[] {
  const ticked = new Set(done)
  const item = (
    channel: string | null,
    step: string,
    what: string,
    short = '',
    fuseOf: string | null = null,
  ): PowerUpItem => {
    const key = `${channel ?? 'lamp'}/${step}`
    return { key, channel, step, what, short, done: ticked.has(key), fuseOf }
  }
  const { fuse } = power.harness.main
  const whole = [
    item(null, 'supply apart', 'The supply is disconnected, and every channel’s fuse is out.'),
    item(
      null,
      'insulation',
      'No path between any wire and the bare metal of lamp and sink (meter on its highest range).',
    ),
    item(
      null,
      'main fuse',
      fuse
        ? `The main fuse is ${fuse.amps} A for at least ${fuse.volts} V, at the supply’s own terminal.`
        : 'A main fuse is fitted at the supply’s own terminal (the design names none).',
      fuse ? `${fuse.amps} A` : '',
      'main',
    ),
    ...relaysOf(power, channels).map(({ id, name, boards, relay }) =>
      item(
        null,
        `relay ${id}`,
        `The relay of “${name}” (${relay.maxA} A) connects ${boards} ${boards === 1 ? 'board' : 'boards'} and no other: no path to their drivers with it open, one with it closed.`,
      ),
    ),
    item(
      null,
      'eyes',
      'The lens is covered or the beam points at a near, dull wall that can’t burn; nobody stands in front.',
    ),
  ]
  const plusOf = (c: Channel) => wiring.find((w) => w.id === `${c.id} out`)?.plus ?? ''
  const each = channels.flatMap((c, i) => {
    const v = volts[i]!
    const fused = wiring.find((w) => w.channel === c.id && w.part === 'channel')?.fuse
    return [
      item(c.id, 'continuity', 'Each wire of this channel has a path end to end, and none to its neighbours.'),
      item(c.id, 'polarity', `Plus (${plusOf(c)}) goes to the board’s plus.`, plusOf(c)),
      item(
        c.id,
        'fuse',
        fused ? `Its fuse is ${fused.amps} A for ${fused.volts} V.` : 'A fuse is fitted (the design names none).',
        fused ? `${fused.amps} A` : '',
        `${c.id} in`,
      ),
      item(
        c.id,
        'set-point',
        v.fullA > 0
          ? `On a dummy load of about ${three(v.fullV / v.fullA)} Ω and ${three(v.fullV * v.fullA)} W the driver gives ${three(v.fullA)} A.`
          : 'Its boards have a current of 0 A: there is nothing to set before the design gives them one.',
        v.fullA > 0 ? `${three(v.fullA)} A` : '',
      ),
      item(
        c.id,
        'low current',
        `Alone, at ${three(v.lowA)} A: about ${three(v.lowV)} V, every emitter of the board lit alike.`,
        `${three(v.lowV)} V`,
      ),
      ...readingsOf(warmUp.get(c.id) ?? []).map((w) =>
        item(c.id, `after ${w.atS} s`, readingWords(w), readingFigures(w)),
      ),
    ]
  })
  return [...whole, ...each]
}

/** A thermometer's hundredths are no news; a minute is needed only where ten seconds warm too little to tell a fault. */
const PLAIN_K = 1

const readingsOf = (all: readonly WarmUp[]): readonly WarmUp[] =>
  all.filter((_, i) => i < all.length - 1 || !tellsFaults(all[i - 1]))

/** Whether a reading of 1 K tells twice the current and a dry joint from a sound channel. */
export const tellsFaults = (w: WarmUp | undefined): boolean =>
  w !== undefined &&
  [w.plate, w.board].some((b) => b.twiceK - b.toK > PLAIN_K) &&
  [w.plate, w.board].some((b) => b.dryK - b.toK > PLAIN_K || b.fromK - b.dryK > PLAIN_K)

const digits = (x: number) => (x < 10 ? x.toFixed(1) : String(Math.round(x)))

/** A rise, or two of them, in K or °F. */
const rise = (k: number) => inEither(digits(k), digits(1.8 * k))
const RISE_UNIT = inEither('K', '°F')

/** Groups with a relay and boards. */
function relaysOf({ groups }: Power, channels: readonly Channel[]) {
  return groups.flatMap(({ id, name, relay }) => {
    const boards = channels.reduce((sum, c) => sum + (c.group.id === id ? c.boards.length : 0), 0)
    return relay && boards > 0 ? [{ id, name, boards, relay }] : []
  })
}

const readingFigures = ({ plate, board }: WarmUp): string =>
  [plate, board]
    .map((b) => `${rise(b.fromK)} to ${rise(b.toK)}`)
    .join(', ')
    .concat(` ${RISE_UNIT}`)

function readingWords({ atS, plate, board }: WarmUp): string {
  const band = (b: WarmUpBand) => `${rise(b.fromK)} to ${rise(b.toK)} ${RISE_UNIT}`
  return (
    `At full current, alone, ${atS} s after switch-on, over the start: plate beside the board ${band(plate)}, the board’s metal by ` +
    `its emitters ${band(board)}. Twice the current would give ${rise(plate.twiceK)} and ${rise(board.twiceK)} ${RISE_UNIT}, a dry joint ` +
    `${rise(plate.dryK)} and ${rise(board.dryK)} ${RISE_UNIT}. Outside either band: stop, and look for the fault.`
  )
}
