// The worst-case table of a lamp: its boards' voltages, cold, in the air given and hot, for src/power/worstCase.ts.
import { weldedModes } from '../lamp/groups.ts'
import type { Mode } from '../lamp/schema.ts'
import { COLD_START_C } from '../library/typicalPower.ts'
import type { Channel } from '../power/channels.ts'
import { VOLTS_SPREAD } from '../power/share.ts'
import { makeWorstCase, type Temperature, type WorstCase, type WorstChannelInput } from '../power/worstCase.ts'
import {
  type BoardModel,
  makeDriverRequest,
  type OperatingState,
  type PowerModel,
  solveElectrics,
  wantedOutputA,
} from './model.ts'

/** Two boards of one face may be so far apart in temperature (common practice, no source; the run shows 5 to 30 K). */
const BOARDS_APART_K = 20

/** dV/dI beyond the emitter's table where that has one row only, of V/I (typical of white emitters; memory). */
const USUAL_SLOPE = 0.07

/**
 * The worst-case table of a lamp (A, V, W; src/power/worstCase.ts). Cold: all at the document's coldest air, −20 °C
 * where it names none. Air: the plate at the document's air. Hot: each junction at its own limit. Boards that share a
 * current may be 20 K apart, emitters 2 % in voltage.
 */
export function worstCaseOf(model: PowerModel): WorstCase {
  const { boards, channels, source, mainOhm, power } = model
  const coldC = Math.min(power.coldestC ?? COLD_START_C, model.ambientC)
  const states = new Map<string, OperatingState>()
  const stateOf = (mode: Mode, temperature: Temperature): OperatingState => {
    const key = `${mode.name} ${mode.groupsOff === undefined} ${mode.id} ${temperature}`
    const state = states.get(key) ?? makeState(model, mode, temperature, coldC)
    states.set(key, state)
    return state
  }
  return makeWorstCase({
    source,
    mainOhm,
    celsius: {
      cold: coldC,
      air: model.ambientC,
      hot: boards.reduce((most, b) => Math.max(most, b.maxJunctionC), model.ambientC),
    },
    modes: power.modes,
    welded: weldedModes(power),
    channels: channels.map((c) => channelInput(model, c)),
    requests: (mode, temperature) => {
      const at = stateOf(mode, temperature)
      return channels.map((c, i) => makeDriverRequest(model, mode, at, c, i))
    },
  })
}

function makeState(model: PowerModel, mode: Mode, temperature: Temperature, coldC: number): OperatingState {
  const n = model.boards.length
  const even = (celsius: number) => new Float64Array(n).fill(celsius)
  const baseC = temperature === 'cold' ? coldC : model.ambientC
  const at: OperatingState = {
    siteC: even(baseC),
    hotC: even(baseC),
    charge: 1,
    share: 1,
    tripped: new Set(),
    junctionC: even(baseC),
    guessA: 0,
  }
  if (temperature === 'hot') at.junctionC = Float64Array.from(model.boards, (b) => b.maxJunctionC)
  // Warmed by themselves at the full supply: brings at.junctionC up to date.
  if (temperature === 'air' && n > 0) solveElectrics(model, mode, at)
  return at
}

function channelInput(model: PowerModel, channel: Channel): WorstChannelInput {
  const boards = channel.boards.flatMap((i) => model.boards[i] ?? [])
  const sideBySide = channel.wired === 'parallel'
  const strings = sideBySide
    ? boards.reduce((sum, b) => sum + b.strings, 0)
    : boards.reduce((least, b) => Math.min(least, b.strings), Number.POSITIVE_INFINITY)
  const volts = new Map(boards.map((b) => [b, extendedVolts(b)]))
  const across = (b: BoardModel, amps: number, c: number) => b.series * (volts.get(b)?.(amps, c) ?? 0)
  // Unlike boards side by side: the one of least voltage takes most, the others hold it up.
  const commonA = boards[0]?.tables.type.ratedCurrentA ?? 1
  const rated = (b: BoardModel) => across(b, commonA, b.tables.type.ratedJunctionC)
  const lowest = boards.reduce((a, b) => (rated(b) < rated(a) ? b : a), boards[0] as BoardModel)
  const highest = boards.reduce((a, b) => (rated(b) > rated(a) ? b : a), boards[0] as BoardModel)
  const unlike = boards.length > 0 ? 1 - rated(lowest) / rated(highest) : 0
  return {
    id: channel.id,
    key: keyOf(channel, boards),
    group: channel.group.id,
    driver: channel.driver,
    strings,
    maxEmitterA: boards.reduce((least, b) => Math.min(least, b.tables.type.maxCurrentA), Number.POSITIVE_INFINITY),
    inOhm: channel.inOhm,
    outOhm: channel.outOhm,
    wantedA: (mode) => wantedOutputA(model, mode, channel),
    faultV: (outA) => {
      if (sideBySide) return across(lowest, outA / strings, lowest.maxJunctionC)
      return boards.reduce((sum, b) => sum + across(b, outA / b.strings, b.maxJunctionC), 0)
    },
    stringV: (amps) => across(highest, amps, highest.tables.type.ratedJunctionC),
    lower: lowerShare(lowest, sideBySide && boards.length > 1) + (sideBySide ? unlike : 0),
  }
}

/** Volts of one emitter; beyond its table they rise in any case, also where the table itself has no slope. */
function extendedVolts(board: BoardModel): (amps: number, junctionC: number) => number {
  const { tables } = board
  const { forward } = tables.type
  const last = forward[forward.length - 1]
  const before = forward[forward.length - 2]
  const lastA = last?.currentA ?? 1
  const rises = last !== undefined && before !== undefined && last.volts > before.volts
  return (amps, c) => tables.volts(amps, c) * (rises || amps <= lastA ? 1 : 1 + (USUAL_SLOPE * (amps - lastA)) / lastA)
}

/** Emitters differ by chance, less so in a string of many; boards also by their temperature. */
function lowerShare({ tables, series }: BoardModel, boardsApart: boolean): number {
  const { ratedJunctionC, ratedCurrentA } = tables.type
  const volts = tables.volts(ratedCurrentA, ratedJunctionC)
  const warmer = boardsApart ? 1 - tables.volts(ratedCurrentA, ratedJunctionC + BOARDS_APART_K) / volts : 0
  return VOLTS_SPREAD / Math.sqrt(series) + Math.max(0, warmer)
}

const keyOf = (c: Channel, boards: readonly BoardModel[]): string =>
  JSON.stringify([
    c.driver.id,
    c.wired,
    c.inOhm,
    c.outOhm,
    boards.map((b) => [b.tables.type.id, b.emitters, b.strings, b.ownA, b.group, b.chainKW, b.jointKW]),
  ])
