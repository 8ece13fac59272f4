// The schema of the parts that make a lamp, in the order light meets them. Units are in the names.

import { LIMITS } from './limits.ts'
import { boardThermal } from './power.ts'
import { emitterRays } from './rays.ts'
import { boardHole } from './workshop.ts'
import * as z from './zod.ts'

const text = z.string().max(LIMITS.textChars)
export const id = z
  .string()
  .min(1)
  .max(60)
  .regex(/^[\w .+-]+$/, 'letters, digits, space, and . _ + - only')
const coordinateMm = z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm)
const sizeMm = z.number().min(0.05).max(LIMITS.faceMm)
const share = z.number().min(0).max(1)
const turnDeg = z.number().min(-360).max(360)
const relative = z.number().min(0).max(LIMITS.relative)
const factor = z.number().min(0).max(LIMITS.factor)
const tableA = z.number().min(0).max(LIMITS.tableA)
const tableC = z.number().min(-273).max(1000)

const row = <A extends z.ZodType>(of: A) => z.array(of).min(1).max(LIMITS.tableRows)

const tableProfile = z.strictObject({
  kind: z.literal('table'),
  thetaDeg: row(z.number().min(0).max(90)),
  intensity: row(relative),
})

const mapProfile = z.strictObject({
  kind: z.literal('map'),
  thetaDeg: row(z.number().min(0).max(90)),
  /** Azimuths in [0, 360), rising; the table closes on itself. */
  phiDeg: row(z.number().min(0).max(360)),
  /** One row of intensities for each azimuth. */
  intensity: row(row(relative)),
})

/** Relative intensity over the angle from the emitter's axis (and, in a map, the azimuth about it). */
export const profile = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('cosine'), fwhmDeg: z.number().min(1).max(178) }),
  z.strictObject({ kind: z.literal('gaussian'), fwhmDeg: z.number().min(0.5).max(178) }),
  tableProfile,
  mapProfile,
])

export const spectrum = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('white'),
    classK: z.union([z.literal(3000), z.literal(4000), z.literal(5000), z.literal(6500)]),
  }),
  z.strictObject({ kind: z.literal('equalEnergy') }),
  z.strictObject({ kind: z.literal('mono'), wavelengthNm: z.number().min(380).max(780) }),
  /** Relative spectral power, 380 to 780 nm in steps of 5 nm: 81 values. */
  z.strictObject({
    kind: z.literal('table'),
    power: z.array(relative).length(81),
    /** The same below, 300 to 375 nm in steps of 5 nm: 16 values; absent: not known. Not traced; read for eyes and skin. */
    ultraviolet: z.array(relative).length(16).optional(),
  }),
])

export const emitterType = z.strictObject({
  id,
  name: text,
  note: text,
  /** Luminous flux at `ratedCurrentA` and `ratedJunctionC`. */
  fluxLm: z.number().min(0.01).max(100_000),
  ratedCurrentA: z.number().min(0.001).max(100),
  ratedJunctionC: z.number().min(-40).max(200),
  source: z.discriminatedUnion('shape', [
    z.strictObject({
      shape: z.literal('rectangle'),
      widthMm: z.number().min(0.01).max(100),
      heightMm: z.number().min(0.01).max(100),
    }),
    z.strictObject({ shape: z.literal('disc'), diameterMm: z.number().min(0.01).max(100) }),
  ]),
  /** Height of the emitting surface above the face (board and package). */
  heightMm: z.number().min(0).max(100),
  /** Diameter of the package, for clearances. */
  bodyMm: z.number().min(0.1).max(200),
  profile,
  spectrum,
  /** Rays that its light is drawn from where it is bare or in a cup; source and profile then only say roughly what they are like. */
  rays: emitterRays.optional(),
  /** Forward voltage over current at the rated junction temperature, currents rising. */
  forward: row(z.strictObject({ currentA: tableA, volts: z.number().min(0).max(1000) })),
  /** Flux over current relative to the rated one; empty: proportional to current. */
  fluxByCurrent: z.array(z.strictObject({ currentA: tableA, factor })).max(LIMITS.tableRows),
  /** Flux over junction temperature relative to the rated one; empty: constant. */
  fluxByJunction: z.array(z.strictObject({ junctionC: tableC, factor })).max(LIMITS.tableRows),
  /** Forward voltage over junction temperature relative to the one at the rated temperature; absent or empty: constant. */
  forwardByJunction: z
    .array(z.strictObject({ junctionC: tableC, factor }))
    .max(LIMITS.tableRows)
    .optional(),
  /** Junction to board, of the heat (electrical input less light). */
  thermalResistanceKW: z.number().min(0).max(1000),
  maxCurrentA: z.number().min(0.001).max(200),
  maxJunctionC: z.number().min(0).max(250),
})

export const opticType = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('bare'), id, name: text }),
  z.strictObject({
    kind: z.literal('collimator'),
    id,
    name: text,
    exitDiameterMm: z.number().min(0.1).max(300),
    /** Height of the exit disc above the face. */
    heightMm: z.number().min(0).max(300),
    /** Not read where the shape is a table. */
    fwhmDeg: z.number().min(0.5).max(178),
    shape: z.enum(['cosine', 'gaussian', 'table']),
    /** Full width along the optic's y, of a gaussian beam that isn't round; `fwhmDeg` is then that along its x. */
    fwhmYDeg: z.number().min(0.5).max(178).optional(),
    /** Of the shape "table", about the optic's own axis. */
    profile: z.discriminatedUnion('kind', [tableProfile, mapProfile]).optional(),
    /** Turn of the optic about its own axis. */
    turnDeg: turnDeg.optional(),
    efficiency: share,
  }),
  z.strictObject({
    kind: z.literal('reflector'),
    id,
    name: text,
    /** Focal length of the paraboloid; the emitter is at its focus, moved by `shift`. */
    focalMm: z.number().min(0.1).max(200),
    exitDiameterMm: z.number().min(0.5).max(400),
    reflectance: share,
    shiftXMm: z.number().min(-50).max(50),
    shiftYMm: z.number().min(-50).max(50),
    shiftZMm: z.number().min(-50).max(50),
  }),
])

/** A closed outline, mm: either way round, its edges not crossing. */
const corners = z
  .array(
    z.tuple([z.number().min(-LIMITS.faceMm).max(LIMITS.faceMm), z.number().min(-LIMITS.faceMm).max(LIMITS.faceMm)]),
  )
  .min(3)
  .max(LIMITS.corners)

/** Where an emitter sits on its board, in the board's own frame. */
export const site = z.strictObject({ xMm: coordinateMm, yMm: coordinateMm, turnDeg: turnDeg.optional() })

export const boardType = z.strictObject({
  id,
  name: text,
  outline: z.discriminatedUnion('shape', [
    z.strictObject({ shape: z.literal('rectangle'), widthMm: sizeMm, heightMm: sizeMm }),
    /** Across flats; a flat faces +x. */
    z.strictObject({ shape: z.literal('hexagon'), acrossMm: sizeMm }),
    z.strictObject({ shape: z.literal('disc'), diameterMm: sizeMm }),
    /** A disc with notches cut into its edge, one in the middle of each point-to-point gap. */
    z.strictObject({
      shape: z.literal('star'),
      acrossMm: sizeMm,
      points: z.int().min(3).max(12),
      notchMm: z.number().min(0).max(100),
    }),
    /** About the board's origin, which need not lie on it. */
    z.strictObject({ shape: z.literal('polygon'), corners }),
  ]),
  emitter: id,
  sites: z.array(site).min(1).max(LIMITS.sitesPerBoard),
  /** Strings in parallel, each with the same number of emitters in series; absent: all in series. */
  strings: z.int().min(1).max(LIMITS.sitesPerBoard).optional(),
  /** Screw holes; absent: none known. */
  holes: z.array(boardHole).max(40).optional(),
  /** Absent: typical of a metal-core board. */
  thermal: boardThermal.optional(),
})

/** Turn of an optic about its emitter: about the board's x, then about its own y, before the board's own turn and tilt. */
export const aim = z.strictObject({ xDeg: z.number().min(-45).max(45), yDeg: z.number().min(-45).max(45) })

const EMITTER_INDEX = 'an emitter index'

export const board = z.strictObject({
  id,
  type: id,
  xMm: coordinateMm,
  yMm: coordinateMm,
  turnDeg,
  /** Height of the board's origin above the face; absent: 0. */
  heightMm: z.number().min(0).max(1000).optional(),
  /** After the turn, the board is tilted, right-handed, about an axis in the face through its origin, in this direction from +x. */
  wedge: z.strictObject({ tiltDeg: z.number().min(-60).max(60), axisDeg: turnDeg }).optional(),
  /** Of all its optics. */
  aim: aim.optional(),
  /** Of single optics, by index into the board type's sites. */
  siteAims: z.record(z.string().regex(/^\d+$/, EMITTER_INDEX), aim).optional(),
  /** Current through each emitter of the board: one driver a board. */
  currentA: z.number().min(0).max(200),
  /** Optic for this board's emitters; absent: the lamp's. */
  optic: id.optional(),
  /** Optic of single emitters, by index into the board type's sites. */
  siteOptics: z.record(z.string().regex(/^\d+$/, EMITTER_INDEX), id).optional(),
  /** Group of boards that are driven alike; absent: the lamp's first. */
  group: id.optional(),
})

/** A point in front of the lamp that optics are aimed at; the distance counts from the face. */
export const aimAt = z.strictObject({
  xMm: z.number().min(-1e7).max(1e7),
  yMm: z.number().min(-1e7).max(1e7),
  distanceM: z.number().min(0.05).max(100_000),
})

export const keepOut = z.discriminatedUnion('shape', [
  z.strictObject({ shape: z.literal('hole'), xMm: coordinateMm, yMm: coordinateMm, diameterMm: sizeMm, why: text }),
  z.strictObject({
    shape: z.literal('slot'),
    xMm: coordinateMm,
    yMm: coordinateMm,
    lengthMm: sizeMm,
    widthMm: sizeMm,
    turnDeg,
    why: text,
  }),
])

export const face = z.strictObject({
  /** A square's, a hexagon's and a rectangle's first flat faces +x. */
  shape: z.enum(['round', 'square', 'hexagon', 'rectangle', 'polygon']),
  /** Size across flats; of a rectangle along x; of a polygon twice the distance of its farthest corner from the axis. */
  sizeMm: z.number().min(1).max(LIMITS.faceMm),
  /** Of a rectangle, along y. */
  heightMm: z.number().min(1).max(LIMITS.faceMm).optional(),
  /** Of a polygon; the axis need not lie on it. */
  corners: corners.optional(),
  reflectance: share,
  keepOuts: z.array(keepOut).max(400),
  /** Least gap between boards, and from boards to keep-outs. */
  clearanceMm: z.number().min(0).max(200),
  /** Least distance from a board to the edge of the face. */
  marginMm: z.number().min(0).max(500),
})

export const target = z.strictObject({
  name: text,
  distanceM: z.number().min(0.05).max(100_000),
  widthM: z.number().min(0.01).max(10_000),
  heightM: z.number().min(0.01).max(10_000),
  /** Half angle of the cone that the target fills, for spill outside the target. */
  coneHalfDeg: z.number().min(0.05).max(90),
})

/** How the numbers are read off: the choices that a sheet states beside its figures. */
export const reading = z.strictObject({
  axialConeHalfDeg: z.number().min(0.02).max(10),
  hotDiscMm: z.number().min(1).max(200),
  sunWm2: z.number().min(0).max(1500),
  sunTiltDeg: z.number().min(0).max(89),
  ambientC: z.number().min(-60).max(80),
})

/** Junction temperatures: as rated, from a stated board temperature, or as the coupled run of a mode has them at a moment. */
export const heat = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('rated') }),
  z.strictObject({ kind: z.literal('board'), boardC: z.number().min(-40).max(200) }),
  z.strictObject({ kind: z.literal('mode'), mode: id, seconds: z.number().min(0).max(1e7) }),
])
