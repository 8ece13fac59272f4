// Planted places of the lamp's own light. Images by 1/s + 1/s' = 1/f; a bundle of parallel beams meets at the focal plane.
import type { Lens, Tunnel } from '../../src/lamp/schema.ts'
import {
  type EmitterKind,
  fresnelLens,
  idealLens,
  innerGhostMm,
  lampOf,
  MOST_WATTS,
  type Spot,
  solidLens,
} from './document.ts'
import type { Draw, PlantedLamp } from './lamps.ts'
import type { Dice } from './random.ts'
import { frontOf, reachOf } from './zones.ts'

const LAMP = { light: 'lamp' } as const
const UP = [0, 0, 1] as const
const DISC_MM2 = Math.PI * 25
const RAD = Math.PI / 180
const LAMBERTIAN = { kind: 'cosine', fwhmDeg: 120 } as const

const cap = (watts: number) => Math.min(MOST_WATTS, watts)

/** Object distance for an image at `imageMm` behind the lens. */
const objectMm = (focalMm: number, imageMm: number) => (focalMm * imageMm) / (imageMm - focalMm)

/** Watts of a Lambertian emitter of so many mm whose image takes `kWm2` in the middle. */
function wattsFor(kWm2: number, emitterMm: number, lensMm: number, s: number, image: number): number {
  const passes = lensMm ** 2 / (lensMm ** 2 + 4 * s ** 2)
  const inDisc = Math.min(1, (10 / ((emitterMm * image) / s)) ** 2)
  return cap((kWm2 * DISC_MM2 * 1e-3) / (passes * inDisc))
}

function someLens(d: Dice, zMm: number, focalMm: number, diameterMm: number): Lens {
  const kind = d.pick(['ideal', 'ideal', 'fresnel', 'solid'])
  if (kind === 'ideal') return idealLens(zMm, focalMm, diameterMm)
  if (kind === 'solid') return solidLens(zMm, focalMm, Math.min(diameterMm, 0.5 * focalMm), 'target')
  return fresnelLens(d, zMm, focalMm, diameterMm, d.pick(['target', 'target', 'source']))
}

/** None, or one that ends just under the lens. */
function someTunnel(d: Dice, faceMm: number, lensMm: number, lensZMm: number): Tunnel | null {
  if (d.chance(0.5) || lensZMm < 30) return null
  const zOutMm = lensZMm - d.between(6, 10)
  const common = { zInMm: d.pick([0, 3]), zOutMm, specularShare: 1, scatterDeg: 0 }
  return { sides: d.pick([0, 4, 6, 8]), inMm: faceMm, outMm: lensMm, reflectance: d.pick([0, 0.9]), ...common }
}

const imaged: Draw = (d) => {
  const f = d.between(50, 250)
  const image = d.ratio(Math.max(200, 1.3 * f), 8000)
  const s = objectMm(f, image)
  const size = d.ratio(1, 10)
  const lensMm = Math.round(f * d.between(0.5, 1.1))
  const [off, turn, turnDeg] = [d.between(0, 0.1) * s, d.between(0, 2 * Math.PI), d.between(0, 90)]
  const spot: Spot = { xMm: off * Math.cos(turn), yMm: off * Math.sin(turn), turnDeg }
  const heightMm = d.between(0, 5)
  const source: EmitterKind['source'] = d.chance(0.5)
    ? { shape: 'disc', diameterMm: size }
    : { shape: 'rectangle', widthMm: size, heightMm: size * d.between(0.6, 1) }
  const profile = d.chance(0.5) ? LAMBERTIAN : ({ kind: 'gaussian', fwhmDeg: d.between(60, 120) } as const)
  const watts = wattsFor(d.ratio(5, 50), size, lensMm, s, image)
  const lens = someLens(d, heightMm + s, f, lensMm)
  const tunnel = someTunnel(d, Math.max(30, 0.5 * lensMm), lensMm, heightMm + s)
  const kinds = [{ source, profile, watts, heightMm }]
  const lamp = lampOf({ name: 'One image', kinds, spots: [spot], lens, tunnel, faceSizeMm: Math.max(30, 0.5 * lensMm) })
  const at = [(-spot.xMm * image) / s, (-spot.yMm * image) / s, heightMm + s + image] as const
  const acrossMm = 30 + 0.6 * ((size * image) / s)
  return { lamp, light: LAMP, zone: 'front', places: [{ at, along: UP, acrossMm, depthMm: 0.4 * image }] }
}

/** Beams on a hexagonal lattice within a circle. */
function lattice(pitchMm: number, withinMm: number): Spot[] {
  const spots: Spot[] = []
  for (let i = -6; i <= 6; i++)
    for (let j = -6; j <= 6; j++) {
      const [xMm, yMm] = [pitchMm * (i + j / 2), pitchMm * j * Math.sqrt(0.75)]
      if (Math.hypot(xMm, yMm) <= withinMm) spots.push({ xMm, yMm })
    }
  return spots
}

function beams(d: Dice, exitDiameterMm: number, fwhmDeg: number, watts: number): EmitterKind {
  const shape = d.pick(['gaussian', 'cosine'] as const)
  const collimator = { exitDiameterMm, heightMm: d.between(8, 20), fwhmDeg, shape }
  return { source: { shape: 'disc', diameterMm: 2 }, profile: LAMBERTIAN, watts, heightMm: 1, collimator }
}

/** Mean over the disc of a Gaussian spot of so many watts. */
const wattsOverDisc = (kWm2: number, fwhmMm: number) =>
  (kWm2 * DISC_MM2 * 1e-3) / (1 - Math.exp((-4 * Math.LN2 * 25) / fwhmMm ** 2))

const collected: Draw = (d) => {
  const exit = d.between(10, 28)
  const fwhmDeg = d.between(4, 12)
  const f = d.ratio(200, Math.min(2000, 80 / (fwhmDeg * RAD)))
  const spots = lattice(exit + 1, d.between(0, 2.4) * exit)
  const far = Math.max(...spots.map((s) => Math.hypot(s.xMm, s.yMm)))
  const z = d.between(30, 250)
  const lensMm = Math.round(2 * (far + exit / 2 + (z * fwhmDeg * RAD) / 2) + 10)
  const watts = cap(wattsOverDisc(d.ratio(5, 80), fwhmDeg * RAD * f) / spots.length)
  const lens = someLens(d, z, f, Math.min(lensMm, f))
  const faceSizeMm = 2 * far + exit + 10
  const tunnel = someTunnel(d, faceSizeMm, Math.max(lens.diameterMm, 20), z)
  const lamp = lampOf({
    name: 'Beams to one focus',
    kinds: [beams(d, exit, fwhmDeg, watts)],
    spots,
    lens,
    tunnel,
    faceSizeMm,
  })
  const at = [0, 0, z + 0.95 * f] as const
  return { lamp, light: LAMP, zone: 'front', places: [{ at, along: UP, acrossMm: 40, depthMm: 0.5 * f }] }
}

const cluster: Draw = (d) => {
  const count = d.whole(2, 7)
  const f = d.between(60, 200)
  const image = d.ratio(Math.max(200, 1.6 * f), 1500)
  const s = objectMm(f, image)
  const scale = image / s
  const pitch = d.between(5, 9)
  const hex = [
    [0, 0],
    [1, 0],
    [0.5, 0.866],
    [-0.5, 0.866],
    [-1, 0],
    [-0.5, -0.866],
    [0.5, -0.866],
  ]
  const turn = d.between(0, 2 * Math.PI)
  const chain = d.chance(0.3)
  const [offX, offY] = [d.between(-40, 40), d.between(-40, 40)]
  const spots = Array.from({ length: count }, (_, i): Spot => {
    const [a, b] = chain ? [i - (count - 1) / 2, 0] : hex[i]!
    const [x, y] = [pitch * a! + d.between(-0.3, 0.3), pitch * b! + d.between(-0.3, 0.3)]
    const [p, q] = [x * Math.cos(turn) - y * Math.sin(turn) + offX, x * Math.sin(turn) + y * Math.cos(turn) + offY]
    return { xMm: -p / scale, yMm: -q / scale, share: d.between(0.6, 1) }
  })
  const size = d.between(1.5, 4.5) / scale
  const lensMm = Math.round(f * d.between(0.5, 1))
  const watts = wattsFor(d.ratio(4, 40), size, lensMm, s, image)
  const kinds = [{ source: { shape: 'disc' as const, diameterMm: size }, profile: LAMBERTIAN, watts, heightMm: 0 }]
  const lens = idealLens(s, f, lensMm)
  const lamp = lampOf({ name: 'Images side by side', kinds, spots, lens, faceSizeMm: 60 })
  const place = { at: [offX, offY, s + image] as const, along: UP, acrossMm: 35, depthMm: 0.15 * image }
  return { lamp, light: LAMP, zone: 'front', places: [place] }
}

const twoDeep: Draw = (d) => {
  const f = d.between(80, 250)
  const near = d.ratio(1.6 * f, 1500)
  // An emitter may stand at most 100 mm high.
  const s1 = objectMm(f, near)
  const s2 = Math.max(objectMm(f, near * d.between(1.15, 2.5)), s1 - 98)
  const far = (f * s2) / (s2 - f)
  const lensMm = Math.round(f * d.between(0.4, 1))
  const [size1, size2] = [d.ratio(1, 6), d.ratio(1, 6)]
  const level = d.ratio(4, 40)
  const side = d.pick([0, d.between(0, 4)])
  const kind = (size: number, s: number, image: number, kWm2: number): EmitterKind => ({
    source: { shape: 'disc', diameterMm: size },
    profile: LAMBERTIAN,
    watts: wattsFor(kWm2, size, lensMm, s, image),
    heightMm: s1 - s,
  })
  const kinds = [kind(size1, s1, near, level), kind(size2, s2, far, level * d.between(0.7, 1.4))]
  const spots = [
    { xMm: 0, yMm: 0 },
    { xMm: (side * s2) / far, yMm: 0, kind: 1 },
  ]
  const lamp = lampOf({ name: 'Two images in depth', kinds, spots, lens: idealLens(s1, f, lensMm), faceSizeMm: 60 })
  const places = [near, far].map((image, i) => {
    const x = i === 0 ? 0 : -side
    return { at: [x, 0, s1 + image] as const, along: UP, acrossMm: 30, depthMm: 0.25 * image }
  })
  return { lamp, light: LAMP, zone: 'front', places }
}

const farImage: Draw = (d) => {
  const f = d.between(150, 700)
  const image = d.ratio(8000, 25_000)
  const s = objectMm(f, image)
  const lensMm = Math.round(f * d.between(0.5, 1))
  const size = d.ratio(0.3, 2)
  const watts = wattsFor(d.ratio(2, 12), size, lensMm, s, image)
  const lens = idealLens(s, f, lensMm)
  const kinds = [{ source: { shape: 'disc' as const, diameterMm: size }, profile: LAMBERTIAN, watts, heightMm: 0 }]
  const [x, y] = [d.between(-0.01, 0.01) * s, d.between(-0.01, 0.01) * s]
  const lamp = lampOf({ name: 'A far image', kinds, spots: [{ xMm: x, yMm: y }], lens, faceSizeMm: 100 })
  const at = [(-x * image) / s, (-y * image) / s, s + image] as const
  const acrossMm = 20 + 0.6 * ((size * image) / s)
  return { lamp, light: LAMP, zone: 'front', places: [{ at, along: UP, acrossMm, depthMm: 0.5 * image }] }
}

/** The image is about as wide as the lens: between them the light keeps its strength. */
const longWaist: Draw = (d) => {
  if (d.chance(0.5)) {
    const image = d.between(1200, 4000)
    const f = d.between(60, 160)
    const s = objectMm(f, image)
    const lensMm = Math.round(d.between(0.6, 1) * f)
    const size = (d.between(0.5, 1.1) * lensMm * s) / image
    const kinds = [{ source: { shape: 'disc' as const, diameterMm: size }, profile: LAMBERTIAN, watts: 0, heightMm: 0 }]
    kinds[0]!.watts = wattsFor(d.ratio(2, 12), size, lensMm, s, image)
    const lens = idealLens(s, f, lensMm)
    const lamp = lampOf({ name: 'A long waist', kinds, spots: [{ xMm: 0, yMm: 0 }], lens, faceSizeMm: 60 })
    const place = { at: [0, 0, s + 0.55 * image] as const, along: UP, acrossMm: lensMm, depthMm: 0.6 * image }
    return { lamp, light: LAMP, zone: 'front', places: [place] }
  }
  const [exit, fwhmDeg, f] = [d.between(20, 60), d.between(0.8, 2), d.between(1500, 6000)]
  const spots = lattice(exit, d.pick([0, exit]))
  const watts = cap((d.ratio(4, 30) * 1e-3 * Math.PI * exit ** 2) / 4)
  const lensMm = Math.round(exit * (spots.length > 1 ? 3.4 : 1.3))
  const lens = idealLens(60, f, lensMm)
  const lamp = lampOf({ name: 'Slow beams', kinds: [beams(d, exit, fwhmDeg, watts)], spots, lens, faceSizeMm: lensMm })
  const place = { at: [0, 0, 60 + 0.5 * f] as const, along: UP, acrossMm: 0.7 * lensMm, depthMm: 0.6 * f }
  return { lamp, light: LAMP, zone: 'front', places: [place] }
}

const past: Draw = (d, seed) => [pastLens, outOfGap, backwards][seed % 3]!(d)

function pastLens(d: Dice): PlantedLamp {
  const [exit, fwhmDeg, z] = [d.between(10, 25), d.between(4, 14), d.between(60, 200)]
  const lensMm = Math.round(d.between(40, 100))
  const r = lensMm / 2 + exit / 2 + (z * fwhmDeg * RAD) / 2 + d.between(0, 20)
  const turn = d.between(0, 2 * Math.PI)
  const spots = [{ xMm: r * Math.cos(turn), yMm: r * Math.sin(turn) }]
  const spread = Math.hypot(0.8 * exit, z * fwhmDeg * RAD)
  const watts = cap(wattsOverDisc(d.ratio(5, 40), spread))
  const kinds = [beams(d, exit, fwhmDeg, watts)]
  const lens = idealLens(z, d.between(80, 300), lensMm)
  const lamp = lampOf({ name: 'Past the lens', kinds, spots, lens, faceSizeMm: 2 * r + 40 })
  const at = [spots[0]!.xMm, spots[0]!.yMm, z + 8] as const
  return { lamp, light: LAMP, zone: 'front', places: [{ at, along: UP, acrossMm: 25, depthMm: 10 }] }
}

function outOfGap(d: Dice): PlantedLamp {
  const half = d.between(20, 60)
  const gap = d.between(18, 50)
  const [fromRim, turn] = [d.between(3, 12), d.between(0, 2 * Math.PI)]
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const spots = [{ xMm: (half - fromRim) * c, yMm: (half - fromRim) * s }]
  const kinds: EmitterKind[] = [
    {
      source: { shape: 'disc', diameterMm: d.between(2, 6) },
      profile: LAMBERTIAN,
      watts: d.ratio(20, 140),
      heightMm: 1,
    },
  ]
  const zOutMm = gap + d.between(60, 150)
  const common = { reflectance: d.pick([0, 0.9]), specularShare: 1, scatterDeg: 0 }
  const tunnel: Tunnel = { sides: 0, inMm: 2 * half, outMm: 2 * half, zInMm: gap, zOutMm, ...common }
  const lamp = lampOf({ name: 'Out of the gap', kinds, spots, lens: null, tunnel, faceSizeMm: 2 * half })
  const reach = reachOf(lamp) + 9
  const tilt = Math.atan2(gap * 0.6, fromRim + 9)
  const along = [c * Math.cos(tilt), s * Math.cos(tilt), Math.sin(tilt)] as const
  const at = [reach * c, reach * s, gap * 0.6] as const
  return { lamp, light: LAMP, zone: 'outside', places: [{ at, along, acrossMm: 25, depthMm: 8 }] }
}

/** The curved side of a solid lens reflects from within: its focus lies R/(2n) before the lens, here behind the face. */
function backwards(d: Dice): PlantedLamp {
  const f = d.between(700, 1300)
  const ghost = innerGhostMm(f)
  const z = d.between(0.45, 0.75) * ghost
  const [ring, count] = [d.between(35, 60), d.whole(6, 12)]
  const spots = Array.from({ length: count }, (_, i) => {
    const a = (2 * Math.PI * i) / count
    return { xMm: ring * Math.cos(a), yMm: ring * Math.sin(a) }
  })
  const fwhmDeg = d.between(1.5, 3.5)
  const watts = cap(wattsOverDisc(d.ratio(4, 25), 1.3 * fwhmDeg * RAD * ghost) / (0.035 * count))
  const lens = solidLens(z, f, 2 * ring + 50, 'target')
  const atFace = ring * (1 - z / ghost)
  const kinds = [beams(d, d.between(8, 16), fwhmDeg, watts)]
  const lamp = lampOf({ name: 'Backwards', kinds, spots, lens, faceSizeMm: Math.max(4, 0.8 * atFace) })
  const at = [0, 0, frontOf(lamp) - ghost] as const
  return {
    lamp,
    light: LAMP,
    zone: 'outside',
    places: [{ at, along: [0, 0, -1], acrossMm: 25, depthMm: 0.35 * ghost }],
  }
}

export const OWN_CLASSES = {
  single: ((d, seed) => (seed % 2 === 0 ? imaged : collected)(d, seed)) as Draw,
  cluster,
  twoDeep,
  far: farImage,
  long: longWaist,
  past,
}
