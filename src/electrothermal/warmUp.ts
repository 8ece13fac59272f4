// The first minute of one channel alone, for the power-up list: how far plate and board should warm, and how far with a fault, so
// that a reading can tell one from the other.
import { boardAreaM2, boardReachMm } from '../heat/face.ts'
import { advancePlate, makeEvenTemperatures, shiftOf } from '../heat/plateTemperatures.ts'
import { boardTypeOf } from '../lamp/place.ts'
import { TYPICAL_BOARD } from '../library/typicalPower.ts'
import type { Channel } from '../power/channels.ts'
import type { WarmUp, WarmUpBand } from '../power/powerUp.ts'
import { conductancesAt, type PowerModel } from './model.ts'

/** Of the readings, and the steps of time that lead to them: within 0.3 % of steps a fifth to a tenth as long. */
const READ_S = [1, 5, 10, 60] as const
const STEPS: readonly [untilS: number, seconds: number][] = [
  [1, 0.25],
  [10, 1],
  [60, 2.5],
]
/** A joint without paste, or lifted: ten times the document's, and no less than this (K·cm²/W; memory: dry joints 1 to 5). */
const DRY_FACTOR = 10
const DRY_KCM2W = 3
/** Stored heat of a board's metal, aluminium, J/m³K. */
const BOARD_JM3K = 2700 * 900
/** Less than this warms nothing that a thermometer shows. */
const LEAST_W = 1e-6
/** A reading may be off by so much, and the model too. */
const SLACK = 1.35

interface Rise {
  plateK: number
  boardK: number
}

/**
 * Rises over the start, K, of each channel's plate and board after 1, 5, 10 and 60 s at full current, alone: bands of a
 * sound channel, and what twice the current and a dry joint give; by channel. The same plate model as the runs; the board's metal
 * follows with its own stored heat, q = P (1 − e^(−t/RC)). Channels of one board of the same type share what the plate does
 * under the innermost and the outermost of them, scaled by their heat.
 */
export function warmUpOf(model: PowerModel): Map<string, WarmUp[]> {
  const kinds = new Map<string, Channel[]>()
  for (const c of model.channels) {
    const [only, ...more] = c.boards
    const alone = only !== undefined && more.length === 0
    // Neither name holds a line break.
    const key = alone ? `\n${model.lamp.boards[only]?.type}` : c.id
    const own = kinds.get(key)
    if (own) own.push(c)
    else kinds.set(key, [c])
  }
  const out = new Map<string, WarmUp[]>()
  for (const own of kinds.values()) {
    // No heat, no reading.
    const warm = own.filter((c) => heatOf(model, c, 1) > LEAST_W)
    const places = warm.map((c) => ({ c, r: fromMiddleMm(model, c) })).sort((a, b) => a.r - b.r)
    const [inner, outer] = [places[0], places[places.length - 1]]
    if (!inner || !outer) continue
    const shown = inner === outer ? [inner.c] : [inner.c, outer.c]
    const found = shown.map((c) => ({
      heatW: heatOf(model, c, 1),
      sound: simulate(model, c, false),
      dry: simulate(model, c, true),
    }))
    for (const c of warm) {
      const ratio = heatOf(model, c, 2) / heatOf(model, c, 1)
      const of = (rises: readonly Rise[], by: number) =>
        rises.map(({ plateK, boardK }) => ({ plateK: by * plateK, boardK: by * boardK }))
      const scaled = found.map(({ heatW: from, sound, dry }): Scenarios => {
        const by = heatOf(model, c, 1) / from
        return { sound: of(sound, by), twice: of(sound, by * ratio), dry: of(dry, by) }
      })
      out.set(c.id, bandsOf(scaled))
    }
  }
  return out
}

const fromMiddleMm = ({ lamp }: PowerModel, c: Channel): number => {
  const board = lamp.boards[c.boards[0] ?? 0]
  return board ? Math.hypot(board.xMm, board.yMm) : 0
}

interface Scenarios {
  sound: Rise[]
  twice: Rise[]
  dry: Rise[]
}

const heatOf = (model: PowerModel, c: Channel, factor: number): number =>
  c.boards.reduce((sum, b) => sum + heatW(model, b, factor), 0)

/** Of a board at so many times its own current, cold, W. */
function heatW({ boards, ambientC, retained }: PowerModel, index: number, factor: number): number {
  const board = boards[index]
  if (!board) return 0
  const amps = factor * board.ownA
  const lightW = board.tables.fluxLm(amps, ambientC) / board.tables.lmPerW
  const inW = board.tables.volts(amps, ambientC) * amps
  return board.emitters * (inW - Math.min(inW, lightW) * (1 - retained.optics))
}

function simulate(model: PowerModel, c: Channel, dry: boolean): Rise[] {
  const { plate, lamp } = model
  const heated = c.boards.flatMap((index) => {
    const [board, lampBoard, patch] = [model.boards[index], lamp.boards[index], plate.boards[index]]
    if (!board || !lampBoard || !patch) return []
    const areaM2 = boardAreaM2(boardTypeOf(lamp, lampBoard).outline)
    const jointKW = dry ? Math.max(DRY_FACTOR * board.jointKW, DRY_KCM2W / (areaM2 * 1e4)) : board.jointKW
    const storedJK = (areaM2 * BOARD_JM3K * TYPICAL_BOARD.metalMm) / 1000
    return [{ index, patch, jointKW, tauS: jointKW * storedJK, watts: heatW(model, index, 1) }]
  })
  const first = heated[0]
  if (!first) return []
  const beside = cellsBeside(model, first.index)
  const conductances = conductancesAt(model, model.ambientC + 20)
  let temperatures = makeEvenTemperatures(plate, 0)
  const rises: Rise[] = []
  let tS = 0
  for (const [untilS, seconds] of STEPS) {
    const shift = shiftOf(plate.storedJm2K, conductances, seconds)
    for (; tS < untilS - 1e-9; tS += seconds) {
      const q = new Float64Array(plate.areaM2.length)
      for (const { patch, tauS, watts } of heated) {
        const flow = watts * meanFlow(tS, tS + seconds, tauS)
        for (const [k, cell] of patch.cells.entries()) q[cell] = (q[cell] ?? 0) + (patch.shares[k] ?? 0) * flow
      }
      temperatures = advancePlate(plate, conductances, temperatures, q, 0, seconds, shift).temperatures
      if (!READ_S.some((s) => Math.abs(s - tS - seconds) < 1e-6)) continue
      const under = meanOver(temperatures.plateC, first.patch.cells, first.patch.shares)
      const through = first.watts * (1 - Math.exp(-(tS + seconds) / Math.max(1e-9, first.tauS)))
      rises.push({ plateK: meanOver(temperatures.plateC, beside), boardK: under + through * first.jointKW })
    }
  }
  return rises
}

/** Mean of 1 − e^(−t/τ) between two times. */
export function meanFlow(fromS: number, toS: number, tauS: number): number {
  if (!(tauS > 0)) return 1
  return 1 - (tauS * (Math.exp(-fromS / tauS) - Math.exp(-toS / tauS))) / (toS - fromS)
}

function meanOver(x: Float64Array, cells: ArrayLike<number>, shares?: ArrayLike<number>): number {
  let sum = 0
  for (let k = 0; k < cells.length; k++) sum += (shares?.[k] ?? 1 / cells.length) * (x[cells[k] ?? 0] ?? 0)
  return sum
}

/** Cells whose middles lie within one and a half cells outside of the board's rim; those under it where there are none. */
function cellsBeside({ plate, lamp }: PowerModel, index: number): number[] {
  const board = lamp.boards[index]
  if (!board) return []
  const reachMm = boardReachMm(boardTypeOf(lamp, board).outline)
  const found: number[] = []
  for (const [at, cell] of plate.cellAt.entries()) {
    const xMm = plate.fromXMm + ((at % plate.columns) + 0.5) * plate.cellMm
    const yMm = plate.fromYMm + (Math.floor(at / plate.columns) + 0.5) * plate.cellMm
    const off = Math.hypot(xMm - board.xMm, yMm - board.yMm) - reachMm
    if (cell >= 0 && off >= 0 && off <= 1.5 * plate.cellMm) found.push(cell)
  }
  return found.length > 0 ? found : [...(plate.boards[index]?.cells ?? [])]
}

/** From all places of one kind of channel. A limit lies halfway, in ratio, between sound and faulty. */
function bandsOf(places: readonly Scenarios[]): WarmUp[] {
  return READ_S.map((atS, i) => {
    const all = (key: keyof Scenarios, of: keyof Rise) => places.map((p) => p[key][i]?.[of] ?? 0)
    const band = (of: keyof Rise): WarmUpBand => {
      const [sound, twiceK, dryK] = [all('sound', of), Math.min(...all('twice', of)), all('dry', of)]
      const [least, most] = [Math.min(...sound), Math.max(...sound)]
      const dryMost = Math.max(...dryK)
      const dryLeast = Math.min(...dryK)
      const above = Math.min(twiceK, dryLeast > most ? dryLeast : twiceK)
      const dryIsSlower = dryMost < least / SLACK ** 2
      return {
        fromK: dryIsSlower ? Math.sqrt(least * dryMost) : least / SLACK,
        toK: Math.min(Math.sqrt(most * above), SLACK ** 2 * most),
        twiceK,
        dryK: dryLeast > most ? dryLeast : dryMost,
      }
    }
    return { atS, plate: band('plateK'), board: band('boardK') }
  })
}
