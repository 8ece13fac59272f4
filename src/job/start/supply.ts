// Drivers, supply, wires and modes of a new lamp, from the currents: typical parts, each just large enough.
import type { Cooling, Driver, EmitterType, Gauge, Harness, Mode, Power, Supply } from '../../lamp/schema.ts'
import { emitterById } from '../../library/emitters.ts'
import { COLD_START_C } from '../../library/typicalPower.ts'
import { linear } from '../../num/interpolate.ts'
import { FUSE_AMPS, fuseMostA } from '../../power/fuse.ts'
import { standardRatingA } from '../../power/switching.ts'
import { ampacityA } from '../../power/wire.ts'
import type { Answers, Followed } from './answers.ts'

const HEADROOM_V = 2
const EFFICIENCY = 0.93
/** Strings in series up to this, so that a full pack stays under 60 V, which a hand may touch. */
const MOST_STRING_V = 34
/** What is left of a supply's voltage under load, at the drivers (our choice). */
const UNDER_LOAD = 0.95
/** Of a cell's lasting current a new pack draws this share at the most (our choice). */
const CELL_SHARE = 0.6
/** A fuse and a switch for a quarter more than lasts. */
const SPARE = 1.25
const FIXED_VOLTS = [12, 24, 36, 48]

const CELL = { cellAh: 3, cellMilliohm: 25, cellGram: 47, maxCellA: 10, maxCellC: 60, cutOffCellV: 3 }
const CELL_FULL_V = 4.2

/** Volts across one emitter at a current, in the cold, where they are highest. */
function coldVolts({ forward, forwardByJunction }: EmitterType, currentA: number): number {
  const volts = linear(
    forward.map((r) => r.currentA),
    forward.map((r) => r.volts),
    currentA,
  )
  const rows = forwardByJunction ?? []
  if (rows.length === 0) return volts
  return (
    volts *
    linear(
      rows.map((r) => r.junctionC),
      rows.map((r) => r.factor),
      COLD_START_C,
    )
  )
}

/** The fewest strings, all of the same length, that stay under the most volts of a string. */
export function stringsOf(count: number, volts: number): number {
  for (let n = 1; n < count; n++) if (count % n === 0 && (count / n) * volts <= MOST_STRING_V) return n
  return count
}

/** What the drivers need and draw, at full current in the cold. */
export interface Load {
  strings: number
  /** Through one board's driver. */
  boardA: number
  boardV: number
  /** Into all drivers. */
  inputW: number
}

export function loadOf(answers: Answers, { currentA }: Followed): Load {
  const volts = coldVolts(emitterById(answers.emitter), currentA)
  const strings = stringsOf(answers.perBoard, volts)
  const boardV = (answers.perBoard / strings) * volts
  const boardA = strings * currentA
  return { strings, boardA, boardV, inputW: (answers.boards * boardA * boardV) / EFFICIENCY }
}

const upTo = (x: number, step: number) => Math.ceil(x / step - 1e-9) * step

interface Source {
  supply: Supply
  /** Under load, almost empty; and full. */
  leastV: number
  fullV: number
  /** Into a short circuit. */
  shortA: number
}

/** Of one cell, Wh: its charge at the mean of its voltage. */
const CELL_WH = CELL.cellAh * 3.6
/** Of what is stored a cold or aged pack gives so much under load (our choice). */
const USABLE = 0.85

/** What a pack of typical cells stores, Wh. */
export const packWh = ({ series, parallel }: { series: number; parallel: number }): number =>
  series * parallel * CELL_WH

/** Under load, almost empty: the highest voltage that a step-down driver can still give from so many cells. */
export const packServesV = (series: number): number => UNDER_LOAD * CELL.cutOffCellV * series - HEADROOM_V

function newPack(
  { minutes = 0 }: Answers,
  { boardV, inputW }: Load,
  cellShare = CELL_SHARE,
): { series: number; parallel: number } {
  const needV = (boardV + HEADROOM_V) / UNDER_LOAD
  const series = Math.max(3, Math.ceil(needV / CELL.cutOffCellV - 1e-9))
  const byCurrent = inputW / (UNDER_LOAD * CELL.cutOffCellV * series) / (cellShare * CELL.maxCellA)
  const byEnergy = (inputW * minutes) / 60 / USABLE / packWh({ series, parallel: 1 })
  return { series, parallel: Math.min(1000, Math.max(1, Math.ceil(Math.max(byCurrent, byEnergy) - 1e-9))) }
}

/** Near what its cells last at: a pack that has to be light. */
const MOST_CELL_SHARE = 0.9

/** The lightest pack of typical cells that gives the current, and full light for the minutes that were asked for. */
export const lightestPack = (answers: Answers, load: Load): { series: number; parallel: number } =>
  newPack(answers, load, MOST_CELL_SHARE)

/** W into the drivers that a pack of typical cells gives for so many minutes: by its cells' current when almost empty, and by its energy. */
export function packGivesW(pack: { series: number; parallel: number }, minutes: number): number {
  const byCurrent = MOST_CELL_SHARE * CELL.maxCellA * pack.parallel * UNDER_LOAD * CELL.cutOffCellV * pack.series
  return Math.min(byCurrent, minutes > 0 ? (USABLE * packWh(pack) * 60) / minutes : Infinity)
}

function supplyFor(answers: Answers, load: Load): Source {
  const { boardV, inputW } = load
  if (answers.supply === 'fixed') {
    const needV = (boardV + HEADROOM_V) / UNDER_LOAD
    const volts = FIXED_VOLTS.find((v) => v >= needV) ?? Math.ceil(needV)
    const maxA = Math.ceil((SPARE * inputW) / volts)
    const name = `Mains supply unit of ${volts} V`
    const shortA = Math.ceil(1.5 * maxA)
    return {
      supply: { kind: 'fixed', name, volts, milliohm: 20, maxA, shortA },
      leastV: UNDER_LOAD * volts,
      fullV: volts,
      shortA,
    }
  }
  const { series, parallel } = answers.pack ?? newPack(answers, load)
  const leastV = UNDER_LOAD * CELL.cutOffCellV * series
  const name = `${series} in series, ${parallel} in parallel`
  const pack = { kind: 'pack' as const, name, chemistry: 'li-ion' as const, series, parallel, ...CELL, charged: 1 }
  const shortA = (1000 * CELL_FULL_V * parallel) / CELL.cellMilliohm
  return { supply: { ...pack, protectionA: fuseFor(inputW / leastV) }, leastV, fullV: CELL_FULL_V * series, shortA }
}

const fuseFor = (amps: number): number => FUSE_AMPS.find((a) => a >= SPARE * amps) ?? upTo(SPARE * amps, 50)

/** Even numbers down to 2, then 1/0 and thicker, as they are sold. */
const GAUGES = [20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 0, -1, -2, -3]

/** The thinnest usual wire that may carry so much, and that a fuse of so much may protect. */
function wireFor(amps: number, insulationC: number, airC: number, fuseA = amps): Gauge {
  const bears = (number: number) => {
    const gauge: Gauge = { system: 'awg', number }
    const bearsA = ampacityA(gauge, insulationC, airC)
    return bearsA >= amps && fuseMostA(gauge, bearsA) >= fuseA
  }
  return { system: 'awg', number: GAUGES.find(bears) ?? -3 }
}

const INSULATION_C = 75
/** Of the leads to the boards, which lie on the hot plate, and the plate's heat there. */
const LEADS_C = 200
const PLATE_C = 90
const AIR_C = 40
/** The usual blade fuse for more than 32 V, and what it breaks; over that a fuse of IEC 60269, kind gG (second-hand: 20 kA and more). */
const FUSE_V = 58
const BLADE_BREAKS_A = 1000
const GG_BREAKS_A = 20_000
/** Larger supplies are several (the document's own limit of a fuse). */
const MOST_FUSE_A = 2000

function harnessFor({ boards }: Answers, load: Load, from: Source, sizeMm: number): Harness {
  const mainA = load.inputW / from.leastV
  const channelA = mainA / boards
  const kind = from.shortA > BLADE_BREAKS_A ? { kind: 'gG' as const, breaksA: GG_BREAKS_A } : {}
  const fuseOf = (amps: number) => ({ amps: fuseFor(amps), volts: Math.max(FUSE_V, Math.ceil(from.fullV)), ...kind })
  const [main, channel] = [fuseOf(mainA), fuseOf(channelA)]
  return {
    main: {
      gauge: wireFor(main.amps, INSULATION_C, AIR_C),
      lengthMm: 1000,
      connectors: 1,
      fuse: main,
    },
    channel: {
      gauge: wireFor(channel.amps, INSULATION_C, AIR_C),
      lengthMm: Math.ceil(300 + sizeMm / 2),
      connectors: 1,
      fuse: channel,
    },
    board: {
      gauge: wireFor(SPARE * Math.max(load.boardA, channel.amps), LEADS_C, PLATE_C, channel.amps),
      lengthMm: 200,
      connectors: 0,
      insulationC: LEADS_C,
    },
    connectorMilliohm: 1,
    connectorMaxA: main.amps,
    connectorMaxV: 60,
    insulationC: INSULATION_C,
    allowedDrop: 0.03,
    contactor: {
      maxA: standardRatingA(SPARE * mainA),
      milliohm: 0.5,
      maxV: 60,
      breaksA: standardRatingA(2 * mainA),
      prechargeOhm: 22,
    },
  }
}

const LOW: Mode = { id: 'low', name: 'Low', share: 0.1, stepDown: null }
const MIDDLE: Mode = { id: 'middle', name: 'Middle', share: 0.35, stepDown: null }
/** Bare metal of 65 °C burns at a touch (ISO 13732-1, from memory): it steps down before. */
const FULL: Mode = { id: 'full', name: 'Full', share: 1, stepDown: { watch: 'plate', atC: 60, toShare: 0.35 } }
const MODES: Record<Answers['modes'], Mode[]> = { 1: [FULL], 2: [LOW, FULL], 3: [LOW, MIDDLE, FULL] }

/** A driver for each board; null where the lamp is to say nothing of its supply, or needs more than one main fuse can carry. */
export function startPower(answers: Answers, followed: Followed): Power | null {
  if (answers.supply === 'unsaid') return null
  const load = loadOf(answers, followed)
  const source = supplyFor(answers, load)
  const { supply, fullV } = source
  if (fuseFor(load.inputW / source.leastV) > MOST_FUSE_A) return null
  const driver: Driver = {
    id: 'buck',
    name: 'Step-down converter, constant current',
    kind: 'buck',
    inputMinV: 6,
    inputMaxV: Math.max(60, Math.ceil(1.1 * fullV)),
    headroomV: HEADROOM_V,
    efficiency: EFFICIENCY,
    maxOutputA: Math.max(1, upTo(load.boardA, 0.5)),
    dimming: 'current',
  }
  return {
    drivers: [driver],
    groups: [{ id: 'all', name: 'All boards', driver: 'buck', wired: 'each' }],
    supply,
    harness: harnessFor(answers, load, source, followed.faceMm),
    modes: MODES[answers.modes],
  }
}

const FIN = { heightMm: 60, thicknessMm: 2, spacingMm: 8 }

/** Fins over the whole back, in still air. */
export const startCooling = ({ faceMm }: Followed): Cooling => ({
  plate: { thicknessMm: 8, metal: 'aluminium-6063' },
  sink: {
    kind: 'fins',
    count: Math.max(1, Math.floor((faceMm + FIN.spacingMm) / (FIN.thicknessMm + FIN.spacingMm))),
    ...FIN,
  },
  air: { kind: 'still' },
  finish: 'anodised',
  aim: 'level',
})
