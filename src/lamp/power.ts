// The schema of what a lamp runs on and how it gets rid of its heat: plate, sink, air, drivers, supply, harness, modes. All of it
// is optional in a document; what is missing is taken as typical (src/library/typicalPower.ts) and reported.

import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

const text = z.string().max(LIMITS.textChars)
const id = z
  .string()
  .min(1)
  .max(60)
  .regex(/^[\w .+-]+$/, 'letters, digits, space, and . _ + - only')
const share = z.number().min(0).max(1)
const lengthMm = z.number().min(0).max(100_000)

/** Of a board type: what lies between an emitter's pads and the face. */
export const boardThermal = z.strictObject({
  /** Solder pads of one emitter to the board's underside: dielectric and the spreading in the board's metal. */
  padKW: z.number().min(0).max(1000),
  /** Joint between board and face, by area: K·cm²/W. */
  jointKcm2W: z.number().min(0).max(1000),
})

const sink = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('none') }),
  z.strictObject({
    kind: z.literal('fins'),
    count: z.int().min(1).max(1000),
    /** From the plate's back to the fins' tips. */
    heightMm: z.number().min(1).max(1000),
    thicknessMm: z.number().min(0.1).max(50),
    /** Clear width between two fins. */
    spacingMm: z.number().min(0.5).max(200),
    /** Along the air; absent: as long as the face allows on average. */
    lengthMm: z.number().min(5).max(LIMITS.faceMm).optional(),
  }),
  z.strictObject({
    kind: z.literal('pins'),
    count: z.int().min(1).max(20_000),
    heightMm: z.number().min(1).max(1000),
    diameterMm: z.number().min(0.5).max(50),
    /** Clear width between neighbours. */
    spacingMm: z.number().min(0.5).max(200),
  }),
  /** By its data sheet: a bought sink, heat pipes, a water block. Air, surface and aim of the lamp don't change it. */
  z.strictObject({
    kind: z.literal('rated'),
    /** From the whole of the plate's back to the air around, the joint to the plate included, K/W. */
    resistanceKW: z.number().min(0.001).max(1000),
    /** At the temperature of its base; 0: not known, which is the hotter side. */
    heatCapacityJK: z.number().min(0).max(10_000_000),
    /** Of air or water when the resistance was measured: by itself, or by its own fan or pump. */
    flow: z.enum(['natural', 'forced']),
    /** Largest heat that its data sheet permits, W; absent: not known. */
    maxW: z.number().min(0.1).max(1_000_000).optional(),
  }),
])

const air = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('still') }),
  /** Between the fins, or along the bare plate. */
  z.strictObject({ kind: z.literal('moved'), speedMS: z.number().min(0.05).max(60) }),
  /** Flow over pressure of a fan that blows through the fins' channels, flows rising, pressures falling. */
  z.strictObject({
    kind: z.literal('fan'),
    curve: z
      .array(z.strictObject({ flowM3h: z.number().min(0).max(10_000), pascal: z.number().min(0).max(10_000) }))
      .min(2)
      .max(LIMITS.tableRows),
  }),
])

export const cooling = z.strictObject({
  plate: z.strictObject({
    thicknessMm: z.number().min(0.3).max(200),
    metal: z.enum(['aluminium-6061', 'aluminium-6063', 'aluminium-1050', 'copper']),
  }),
  sink,
  air,
  finish: z.enum(['bare', 'anodised', 'painted']),
  /** Where the beam points most of the time: level, the plate stands upright with its channels upright; up, the sink is below. */
  aim: z.enum(['level', 'up', 'down']),
})

export const driver = z.strictObject({
  id,
  name: text,
  kind: z.enum(['buck', 'boost', 'buck-boost', 'linear']),
  inputMinV: z.number().min(0.5).max(1000),
  inputMaxV: z.number().min(0.5).max(1000),
  /** Least difference between input and output that it needs to hold its current. */
  headroomV: z.number().min(0).max(100),
  /** Of the converter at its usual load; a linear driver's follows from its voltages. */
  efficiency: z.number().min(0.3).max(1),
  maxOutputA: z.number().min(0.01).max(1000),
  dimming: z.enum(['current', 'pulse width']),
  /** Pulses a second, where it dims by pulse width; absent: not known. */
  pwmHz: z.number().min(0.1).max(10_000_000).optional(),
  /** Depth of the pulses in the light, (most − least)/(most + least); absent: 100. */
  pwmModulationPercent: z.number().min(0).max(100).optional(),
  /** Capacitance across its input, charged at switch-on; absent: taken as typical. */
  inputMicrofarad: z.number().min(0).max(1_000_000).optional(),
  /** Where its losses go: into the lamp's plate, or nowhere that is computed; absent: elsewhere. */
  mounted: z.enum(['plate', 'elsewhere']).optional(),
})

const pack = z.strictObject({
  kind: z.literal('pack'),
  name: text,
  chemistry: z.enum(['li-ion', 'lifepo4', 'nimh', 'lead-acid']),
  series: z.int().min(1).max(400),
  parallel: z.int().min(1).max(1000),
  cellAh: z.number().min(0.05).max(1000),
  /** One cell, warm and about half full. */
  cellMilliohm: z.number().min(0).max(1000),
  cellGram: z.number().min(1).max(100_000),
  maxCellA: z.number().min(0.01).max(10_000),
  maxCellC: z.number().min(20).max(120),
  cutOffCellV: z.number().min(0.5).max(4),
  /** Charge at switch-on, of full. */
  charged: z.number().min(0.01).max(1),
  /** Lasting current that the protection board lets through; absent: not known. */
  protectionA: z.number().min(0.01).max(10_000).optional(),
})

const fixed = z.strictObject({
  kind: z.literal('fixed'),
  name: text,
  volts: z.number().min(0.5).max(1000),
  milliohm: z.number().min(0).max(100_000),
  maxA: z.number().min(0.01).max(10_000),
  /** Into a short circuit, A; absent: not known. */
  shortA: z.number().min(0.01).max(1_000_000).optional(),
})

export const supply = z.discriminatedUnion('kind', [pack, fixed])

/** AWG: 0 is 1/0, −3 is 4/0. */
export const gauge = z.discriminatedUnion('system', [
  z.strictObject({ system: z.literal('awg'), number: z.int().min(-3).max(40) }),
  z.strictObject({ system: z.literal('mm2'), mm2: z.number().min(0.02).max(500) }),
])

const fuse = z.strictObject({
  amps: z.number().min(0.05).max(2000),
  volts: z.number().min(1).max(2000),
  /** Largest current that it can break at its voltage; absent: taken as typical. */
  breaksA: z.number().min(1).max(1_000_000).optional(),
  /** By its standard: ISO 8820-3, IEC 60269 gG, IEC 60127, UL 248; absent: taken as a blade fuse. It says from which current on it opens. */
  kind: z.enum(['blade', 'gG', 'miniature', 'UL 248']).optional(),
})

const run = z.strictObject({
  gauge,
  /** One way; the current goes out and comes back. */
  lengthMm,
  /** Pairs of contacts that the current passes on its way out; as many again on its way back. */
  connectors: z.int().min(0).max(50),
  /** Conductors that carry current in one bundle with this run, its own two counted; absent: two. */
  bundled: z.int().min(2).max(400).optional(),
  /** Temperature limit of this run's own insulation; absent: the harness's. */
  insulationC: z.number().min(60).max(300).optional(),
})

const contacts = {
  maxA: z.number().min(0.1).max(5000),
  milliohm: z.number().min(0).max(1000),
  /** Direct voltage and direct current that it can break; absent: not known. */
  maxV: z.number().min(1).max(2000).optional(),
  breaksA: z.number().min(0.1).max(100_000).optional(),
  /** Largest current that its contacts bear while they close; absent: taken as typical. */
  makesA: z.number().min(0.1).max(100_000).optional(),
}

export const group = z.strictObject({
  id,
  name: text,
  driver: id,
  /** A driver for each board, or one for all of the group's boards. */
  wired: z.enum(['each', 'series', 'parallel']),
  /** Relay or contactor that switches the whole group, at the branching place; absent: only its drivers switch it. */
  relay: z.strictObject(contacts).optional(),
  /** Wires of its own from there to the place where its channels branch; absent: they branch where all do. */
  feed: z.strictObject({ ...run.shape, fuse: fuse.nullable() }).optional(),
  /** Conductors that carry current in one bundle with each of its channels' wires to their drivers; absent: the harness's. */
  bundled: z.int().min(2).max(400).optional(),
})

export const harness = z.strictObject({
  /** From the supply to the place where it branches. */
  main: z.strictObject({ ...run.shape, fuse: fuse.nullable() }),
  /** From there to each driver. */
  channel: z.strictObject({ ...run.shape, fuse: fuse.nullable() }),
  /** From each driver to its board or group. */
  board: run,
  /** One-way lengths of single channels from the branching place to their driver, by board (or by group where one driver serves it). */
  channelLengthMm: z.record(id, lengthMm).optional(),
  /** Of one pair of contacts. */
  connectorMilliohm: z.number().min(0).max(1000),
  /** Ratings of one pair of contacts, direct current; absent: not known. */
  connectorMaxA: z.number().min(0.01).max(5000).optional(),
  connectorMaxV: z.number().min(1).max(2000).optional(),
  /** Temperature limit of the insulation. */
  insulationC: z.union([z.literal(60), z.literal(75), z.literal(90)]),
  /** Share of the supply's voltage that the wires may cost. */
  allowedDrop: z.number().min(0.001).max(0.5),
  contactor: z
    .strictObject({
      ...contacts,
      /** In series while the drivers' capacitors are charged, before it closes; absent: none. */
      prechargeOhm: z.number().min(0.1).max(100_000).optional(),
    })
    .nullable(),
})

export const mode = z.strictObject({
  id,
  name: text,
  /** Of each board's own current. */
  share: z.number().min(0).max(10),
  /** Current through each emitter of a group, in place of the share. */
  groupA: z.record(id, z.number().min(0).max(200)).optional(),
  /** Groups that are off in this mode, whatever the entries above say; absent: none. */
  groupsOff: z.array(id).min(1).max(LIMITS.types).optional(),
  /** Once reached, the mode goes on with `toShare` of its current. */
  stepDown: z
    .discriminatedUnion('watch', [
      z.strictObject({ watch: z.literal('junction'), atC: z.number().min(20).max(250), toShare: share }),
      z.strictObject({ watch: z.literal('plate'), atC: z.number().min(20).max(250), toShare: share }),
      z.strictObject({ watch: z.literal('time'), afterS: z.number().min(1).max(86_400), toShare: share }),
    ])
    .nullable(),
})

export const cutOut = z.strictObject({
  /** Opens every channel here, °C. */
  openC: z.number().min(20).max(250),
  /** Closes again here; absent: stays open until the lamp is switched off. */
  closeC: z.number().min(-80).max(249).optional(),
})

export const foldBack = z.strictObject({
  /** All of the mode's current up to here, °C; from here on it falls in a straight line … */
  startC: z.number().min(20).max(250),
  /** … to `leastShare` of it here, and stays there above. */
  endC: z.number().min(20).max(250),
  leastShare: share,
})

export const sensor = z.strictObject({
  /** On the face. */
  xMm: z.number().min(-LIMITS.faceMm).max(LIMITS.faceMm),
  yMm: z.number().min(-LIMITS.faceMm).max(LIMITS.faceMm),
  /** Time constant with which it follows the plate there, s. */
  lagS: z.number().min(0).max(3600),
})

/** What watches the plate in every mode. No rule relies on it: it may fail. */
const protection = z.strictObject({
  /** Where both read; absent: not known. Then runs take the hottest place without a lag, and rules the coolest with a usual one. */
  sensor: sensor.optional(),
  cutOut: cutOut.optional(),
  foldBack: foldBack.optional(),
})

export const power = z.strictObject({
  drivers: z.array(driver).min(1).max(LIMITS.types),
  /** Boards that name no group belong to the first. */
  groups: z.array(group).min(1).max(LIMITS.types),
  supply,
  harness,
  modes: z.array(mode).min(1).max(LIMITS.types),
  /** Thermal cut-out and fold-back; absent: none. */
  protection: protection.optional(),
  /** Coldest air in which it is switched on, °C; absent: −20. */
  coldestC: z.number().min(-80).max(60).optional(),
})

/** Ticks of the power-up list, by channel and step: "B1/polarity". */
export const powerUp = z.strictObject({
  done: z.array(z.string().min(1).max(140)).max(40_000),
})
