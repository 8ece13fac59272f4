// The power-up list: what to check before and while a built lamp is first connected, channel by channel.
import type { Power } from '../lamp/schema.ts'
import type { Channel } from './channels.ts'
import type { WireRun } from './schedule.ts'

export interface PowerUpItem {
  /** Stored in the lamp's file when ticked. */
  key: string
  channel: string | null
  step: string
  what: string
  done: boolean
}

const three = (x: number) => Number(x.toPrecision(3))

export interface PowerUpFacts {
  power: Power
  channels: readonly Channel[]
  wiring: readonly WireRun[]
  /** Across each channel's boards, cold, at its least and full current. */
  volts: readonly { lowV: number; fullV: number; lowA: number; fullA: number }[]
  /** K/s of the plate under each channel's boards at full current, if no heat spread sideways. */
  riseKS: readonly number[]
  done: readonly string[]
}

/**
 * The list of checks, for the lamp as a whole and then channel by channel, in the order to do them; ticked where
 * `done` has the key. Order and wording: common practice, no source.
 */
export function makePowerUpList({ power, channels, wiring, volts, riseKS, done }: PowerUpFacts): PowerUpItem[] {
  const ticked = new Set(done)
  const item = (channel: string | null, step: string, what: string): PowerUpItem => {
    const key = `${channel ?? 'lamp'}/${step}`
    return { key, channel, step, what, done: ticked.has(key) }
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
    ),
    item(
      null,
      'eyes',
      'The lens is covered or the beam points at a near, dull wall that can’t burn; nobody stands in front.',
    ),
  ]
  const each = channels.flatMap((c, i) => {
    const v = volts[i]!
    const rise = (seconds: number) => `${Math.ceil(riseKS[i]! * seconds)} K`
    const fused = wiring.find((w) => w.channel === c.id && w.part === 'channel')?.fuse
    return [
      item(c.id, 'continuity', 'Each wire of this channel has a path end to end, and none to its neighbours.'),
      item(c.id, 'polarity', `Plus (${wiring.find((w) => w.id === `${c.id} out`)?.plus}) goes to the board’s plus.`),
      item(
        c.id,
        'fuse',
        fused ? `Its fuse is ${fused.amps} A for ${fused.volts} V.` : 'A fuse is fitted (the design names none).',
      ),
      item(
        c.id,
        'set-point',
        `On a dummy load of about ${three(v.fullV / v.fullA)} Ω and ${three(v.fullV * v.fullA)} W the driver gives ${three(v.fullA)} A.`,
      ),
      item(
        c.id,
        'low current',
        `Alone, at ${three(v.lowA)} A: about ${three(v.lowV)} V, every emitter of the board lit alike.`,
      ),
      item(
        c.id,
        'after 1 s',
        `At full current, alone: temperature of the plate beside the board after 1 s, written down: at most ${rise(1)} over the start.`,
      ),
      item(c.id, 'after 5 s', `The same after 5 s: at most ${rise(5)}.`),
      item(
        c.id,
        'after 10 s',
        `The same after 10 s: at most ${rise(10)}. Faster means a bad joint or a wrong current: stop.`,
      ),
    ]
  })
  return [...whole, ...each]
}
