// Trace a lamp in this thread, and lamps small enough to have a known answer. Lamps are built as objects: the schema's limits
// don't bind here.

import { makeKernel } from '../../src/engine/forward/kernel.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type {
  EmitterRays,
  EmitterType,
  Lamp,
  Lens,
  OpticType,
  Profile,
  Site,
  Spectrum,
  Tunnel,
} from '../../src/lamp/schema.ts'
import { LAMP_VERSION } from '../../src/lamp/schema.ts'
import { mean, standardError } from '../../src/num/stats.ts'
import type { Figure } from '../../src/run/figure.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, FATES, type Fate, type Run, type TallyShape } from '../../src/run/types.ts'
import { compile, compileSun } from '../../src/scene/compile.ts'
import type { Scene } from '../../src/scene/scene.ts'

export interface TraceOptions {
  /** Rounded up to a multiple of the batches. */
  rays: number
  seed?: number
  plainRandom?: boolean
  /** Changes to the scene before it is traced: absorption, index. */
  edit?: (scene: Scene) => void
  /** The sun from this tilt, in place of the emitters. */
  sunTiltDeg?: number
}

const EXITS_BELOW = 1 << 17

export const sceneOf = (lamp: Lamp): Scene => compile(lamp, solveOperatingPoint(lamp))

export function traceHere(lamp: Lamp, options: TraceOptions): Run {
  let scene = sceneOf(lamp)
  options.edit?.(scene)
  const shape = chooseShape(scene, lamp)
  if (options.sunTiltDeg !== undefined) scene = compileSun(scene, lamp, options.sunTiltDeg)
  return traceScene(scene, shape, options)
}

export function traceScene(scene: Scene, shape: TallyShape, options: Omit<TraceOptions, 'edit' | 'sunTiltDeg'>): Run {
  const { seed = 1, plainRandom = false } = options
  const kernel = makeKernel(scene, shape, { seed, plainRandom, exitsBelow: EXITS_BELOW })
  const each = Math.ceil(options.rays / BATCHES)
  const size = tallyLayout(shape).size
  const tallies: Float64Array[] = []
  const rows: Float32Array[] = []
  for (let batch = 0; batch < BATCHES; batch++) {
    const tally = new Float64Array(size)
    rows.push(kernel.trace(batch, 0, each, tally))
    tallies.push(tally)
  }
  const length = rows.reduce((sum, r) => sum + r.length, 0)
  const data = new Float32Array(length)
  const batches = new Uint8Array(length / EXIT_STRIDE)
  let at = 0
  for (const [batch, r] of rows.entries()) {
    data.set(r, at)
    batches.fill(batch, at / EXIT_STRIDE, (at + r.length) / EXIT_STRIDE)
    at += r.length
  }
  const rays = each * BATCHES
  const exits = { count: batches.length, fromRays: Math.min(rays, EXITS_BELOW), data, batch: batches }
  return { seed, rays, shape, emittedLm: scene.emittedLm, emittedW: scene.emittedW, tallies, exits }
}

/** Share of the emitted watts that ends on these lines, with its standard error from the batches. */
export function endShare(run: Run, ...fates: Fate[]): Figure {
  const at = tallyLayout(run.shape)
  return overRuns(run, (t) => fates.reduce((sum, f) => sum + t[at.fateW + FATES.indexOf(f)]!, 0) / t[at.emitted]!)
}

export const deliveredShare = (run: Run): Figure => endShare(run, 'delivered', 'deliveredViaRiser')

/** Mean number of wall hits of a ray, where nothing is absorbed. */
export function wallHits(run: Run): Figure {
  const at = tallyLayout(run.shape)
  return overRuns(run, (t) => t.subarray(at.wallW, at.faceW).reduce((sum, w) => sum + w, 0) / t[at.emitted]!)
}

/** Intensity over the axial cone, cd. */
export function axialCd(run: Run): Figure {
  const at = tallyLayout(run.shape)
  const sr = 4 * Math.PI * Math.sin(run.shape.axialConeHalfRad / 2) ** 2
  return overRuns(run, (t) => (run.emittedLm * t[at.axialLm]!) / t[at.emitted + 1]! / sr)
}

/** Mean over the batches of a quantity that each gives, and its standard error. */
export function overRuns(run: Run, of: (tally: Float64Array) => number): Figure {
  const values = run.tallies.map(of)
  return { value: mean(values), se: standardError(values) }
}

export interface Exit {
  x: number
  y: number
  z: number
  dx: number
  dy: number
  dz: number
  weight: number
  lumens: number
  nm: number
  batch: number
}

export const exitsOf = ({ exits }: Run): Exit[] =>
  Array.from({ length: exits.count }, (_, i) => {
    const [x, y, z, dx, dy, dz, weight, lumens, nm] = exits.data.subarray(i * EXIT_STRIDE, (i + 1) * EXIT_STRIDE)
    return {
      x: x!,
      y: y!,
      z: z!,
      dx: dx!,
      dy: dy!,
      dz: dz!,
      weight: weight!,
      lumens: lumens!,
      nm: nm!,
      batch: exits.batch[i]!,
    }
  })

/** Radiant weight of the exit rays that `counts`, as a share of what was emitted for them. */
export function exitShare(run: Run, counts: (exit: Exit) => boolean): Figure {
  const perBatch = new Float64Array(BATCHES)
  for (const exit of exitsOf(run)) if (counts(exit)) perBatch[exit.batch]! += exit.weight
  const values = perBatch.map((w) => (w * BATCHES) / run.exits.fromRays)
  return { value: mean(values), se: standardError(values) }
}

export interface OneEmitter {
  source?: EmitterType['source']
  profile?: Profile
  spectrum?: Spectrum
  rays?: EmitterRays
  fluxLm?: number
  heightMm?: number
  sites?: Site[]
  optic?: OpticType
  tunnel?: Tunnel | null
  lens?: Lens | null
  faceReflectance?: number
  faceSizeMm?: number
  axialConeHalfDeg?: number
}

export const LAMBERTIAN: Profile = { kind: 'cosine', fwhmDeg: 120 }
export const GREEN: Spectrum = { kind: 'mono', wavelengthNm: 555 }

/** One bare emitter (or one type at several sites) on a black face; no tunnel, no lens, unless given. */
export function oneEmitter(o: OneEmitter = {}): Lamp {
  const optic: OpticType = o.optic ?? { kind: 'bare', id: 'bare', name: 'Bare' }
  const emitter: EmitterType = {
    id: 'e',
    name: 'Invented',
    note: '',
    fluxLm: o.fluxLm ?? 1000,
    ratedCurrentA: 1,
    ratedJunctionC: 85,
    source: o.source ?? { shape: 'disc', diameterMm: 1 },
    heightMm: o.heightMm ?? 0,
    bodyMm: 1,
    profile: o.profile ?? LAMBERTIAN,
    spectrum: o.spectrum ?? GREEN,
    ...(o.rays ? { rays: o.rays } : {}),
    forward: [{ currentA: 1, volts: 3 }],
    fluxByCurrent: [],
    fluxByJunction: [],
    thermalResistanceKW: 5,
    maxCurrentA: 2,
    maxJunctionC: 150,
  }
  return {
    format: 'lamp',
    version: LAMP_VERSION,
    name: 'One emitter',
    note: '',
    target: { name: '', distanceM: 10, widthM: 1, heightM: 1, coneHalfDeg: 2 },
    emitterTypes: [emitter],
    opticTypes: [optic],
    boardTypes: [
      {
        id: 'b',
        name: '',
        outline: { shape: 'disc', diameterMm: 5 },
        emitter: 'e',
        sites: o.sites ?? [{ xMm: 0, yMm: 0 }],
      },
    ],
    optic: optic.id,
    face: {
      shape: 'round',
      sizeMm: o.faceSizeMm ?? 100,
      reflectance: o.faceReflectance ?? 0,
      keepOuts: [],
      clearanceMm: 0,
      marginMm: 0,
    },
    boards: [{ id: 'B1', type: 'b', xMm: 0, yMm: 0, turnDeg: 0, currentA: 1 }],
    tunnel: o.tunnel ?? null,
    lens: o.lens ?? null,
    reading: {
      axialConeHalfDeg: o.axialConeHalfDeg ?? 0.25,
      hotDiscMm: 10,
      sunWm2: 1000,
      sunTiltDeg: 0,
      ambientC: 20,
    },
    heat: { kind: 'rated' },
  }
}

/** A straight round tube on the face; black by default. */
export const tube = (radiusMm: number, lengthMm: number, over: Partial<Tunnel> = {}): Tunnel => ({
  sides: 0,
  inMm: 2 * radiusMm,
  outMm: 2 * radiusMm,
  zInMm: 0,
  zOutMm: lengthMm,
  reflectance: 0,
  specularShare: 1,
  scatterDeg: 0,
  ...over,
})

/** Light within a hundredth of a degree of one angle to the axis. */
export const atAngle = (deg: number): Profile => ({
  kind: 'table',
  thetaDeg: [deg - 0.01, deg, deg + 0.01],
  intensity: [0, 1, 0],
})
