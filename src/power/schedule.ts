// The wiring as a list: every run with its ends, gauge, length, current, fuse, and its colours by function, in words.
import type { Gauge, Power } from '../lamp/schema.ts'
import { type Channel, wireTemperatureC } from './channels.ts'
import { type FuseRange, fuseMostA, fuseRange } from './fuse.ts'
import { ampacityA, gaugeWords, loopOhm } from './wire.ts'

export interface WireRun {
  id: string
  /** main, channel (to a driver), board (from it). */
  part: 'main' | 'channel' | 'board'
  channel: string | null
  from: string
  to: string
  gauge: Gauge
  gaugeWords: string
  /** One way; of the pair twice as much is needed. */
  lengthMm: number
  /** Pairs of contacts. */
  connectors: number
  amps: number
  /** Out and back, at the limit of the insulation. */
  dropV: number
  lossW: number
  bearsA: number
  fuse: { amps: number; volts: number } | null
  /** What a fuse here should be; null where none belongs. */
  fuseRange: FuseRange | null
  plus: string
  minus: string
}

/** Largest lasting currents, A: those of the emptiest supply. */
export interface Loads {
  mainA: number
  channelInA: readonly number[]
  channelOutA: readonly number[]
}

/**
 * Colours of wires by function, plus and minus. Our own choice: functions must look unlike, and the choice must be
 * the same everywhere.
 */
const COLOURS = {
  supply: ['red', 'black'],
  led: ['white', 'brown'],
} as const

/**
 * Every run of wire: main, then in and out of each driver. Drop (V) and loss (W) at the loads given, as warm as the
 * insulation may get; ampacity in air of airC °C. `loads` has one value a channel.
 */
export function listWiring(power: Power, channels: readonly Channel[], loads: Loads, airC?: number): WireRun[] {
  const { harness, supply } = power
  const ampacityOf = (g: Gauge) => ampacityA(g, harness.insulationC, airC)
  const run = (
    base: Pick<WireRun, 'id' | 'part' | 'channel' | 'from' | 'to' | 'gauge' | 'lengthMm' | 'connectors' | 'amps'>,
    fuse: WireRun['fuse'],
    fused: boolean,
  ): WireRun => {
    const ohm = loopOhm(base, harness.connectorMilliohm, wireTemperatureC(harness))
    const bearsA = ampacityOf(base.gauge)
    const [plus, minus] = base.part === 'board' ? COLOURS.led : COLOURS.supply
    return {
      ...base,
      gaugeWords: gaugeWords(base.gauge),
      dropV: base.amps * ohm,
      lossW: base.amps ** 2 * ohm,
      bearsA,
      fuse,
      fuseRange: fused ? fuseRange(base.amps, fuseMostA(base.gauge, bearsA)) : null,
      plus,
      minus,
    }
  }
  const { main, channel, board } = harness
  const branch = 'branching place'
  const through = harness.contactor ? 'fuse and contactor' : 'fuse'
  const mainRun = run(
    {
      id: 'main',
      part: 'main',
      channel: null,
      from: supply.name,
      to: `${branch} (through ${through})`,
      gauge: main.gauge,
      lengthMm: main.lengthMm,
      connectors: main.connectors,
      amps: loads.mainA,
    },
    main.fuse,
    true,
  )
  const rest = channels.flatMap((c, i) => [
    run(
      {
        id: `${c.id} in`,
        part: 'channel',
        channel: c.id,
        from: branch,
        to: `driver ${c.id}`,
        gauge: channel.gauge,
        lengthMm: c.lengthMm,
        connectors: channel.connectors,
        amps: loads.channelInA[i]!,
      },
      channel.fuse,
      true,
    ),
    run(
      {
        id: `${c.id} out`,
        part: 'board',
        channel: c.id,
        from: `driver ${c.id}`,
        to: c.wired === 'each' ? `board ${c.id}` : `${c.boards.length} boards of ${c.id}, in ${c.wired}`,
        gauge: board.gauge,
        lengthMm: board.lengthMm,
        connectors: board.connectors,
        amps: loads.channelOutA[i]!,
      },
      null,
      false,
    ),
  ])
  return [mainRun, ...rest]
}
