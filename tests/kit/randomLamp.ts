// Random lamps for the fuzz tests: every kind of lens, wall, optic, spectrum, profile and face, within what a document may hold.
import { BUILT_IN_MATERIALS, type OwnMaterial } from '../../src/lamp/material.ts'
import type { Lamp, Lens, OpticType, Profile, Spectrum, Tunnel } from '../../src/lamp/schema.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { oneEmitter } from './traceHere.ts'

export interface Dice {
  between(a: number, b: number): number
  pick<T>(of: readonly T[]): T
  chance(p: number): boolean
}

export function dice(seed: number): Dice {
  const random = seededRandom(Math.imul(seed, 2654435761))
  return {
    between: (a, b) => a + (b - a) * random(),
    pick: (of) => of[Math.floor(random() * of.length)]!,
    chance: (p) => random() < p,
  }
}

export function randomLamp(seed: number): Lamp {
  const d = dice(seed)
  const lengthMm = d.between(40, 400)
  const faceMm = d.between(60, 220)
  const lens = randomLens(d, lengthMm)
  const lamp = oneEmitter({
    source: d.chance(0.5)
      ? { shape: 'disc', diameterMm: d.between(0.5, 12) }
      : { shape: 'rectangle', widthMm: d.between(0.5, 12), heightMm: d.between(0.5, 12) },
    profile: randomProfile(d),
    spectrum: randomSpectrum(d),
    fluxLm: d.between(10, 5000),
    heightMm: d.between(0, 6),
    sites: Array.from({ length: 1 + Math.floor(d.between(0, 6)) }, () => ({
      xMm: d.between(-0.4, 0.4) * faceMm,
      yMm: d.between(-0.4, 0.4) * faceMm,
      turnDeg: d.between(0, 360),
    })),
    optic: randomOptic(d),
    tunnel: d.chance(0.75) ? randomTunnel(d, faceMm, lengthMm) : null,
    lens,
    faceReflectance: d.pick([0, 0.5, d.between(0, 1), 0.95]),
    faceSizeMm: faceMm,
    axialConeHalfDeg: d.between(0.2, 5),
  })
  lamp.face.shape = d.pick(['round', 'square', 'hexagon'])
  lamp.boards[0]!.turnDeg = d.between(-180, 180)
  lamp.boards[0]!.currentA = d.between(0.2, 1)
  return lamp
}

/**
 * The same lamp, its lens of another material: a newer built-in one or one of its own, and some facets cut for another. A draw of its own,
 * so that the lamps of `randomLamp` stay as they are. Without a lens that has a material: as it is.
 */
export function otherMaterial(lamp: Lamp, seed: number): Lamp {
  const { lens } = lamp
  if (!lens || lens.kind === 'ideal') return lamp
  const d = dice(seed + 7919)
  const material = d.pick(['own', 'own', 'own', 'pvc', 'polystyrene', 'silicone', 'float'] as const)
  const cutFor = d.pick([undefined, 'own', ...BUILT_IN_MATERIALS] as const)
  const of = { ...lens, material, ownMaterial: randomMaterial(d) }
  return { ...lamp, lens: of.kind === 'fresnel' && cutFor ? { ...of, cutFor } : of }
}

function randomMaterial(d: Dice): OwnMaterial {
  const rows = <T>(of: (nm: number) => T) =>
    [400, 480, 560, 650, 760].map((wavelengthNm) => ({ wavelengthNm, ...of(wavelengthNm) }))
  const nd = d.between(1.45, 1.9)
  return {
    name: 'Invented',
    family: d.pick(['plastic', 'glass']),
    index: d.pick<OwnMaterial['index']>([
      { by: 'abbe', nd, abbe: d.between(20, 90) },
      { by: 'cauchy', a: nd, bUm2: d.between(0.002, 0.012), cUm4: d.between(0, 4e-4) },
      { by: 'sellmeier', terms: [{ b: nd * nd - 1, cUm2: d.between(0.005, 0.02) }] },
      { by: 'table', rows: rows((nm) => ({ index: nd + 4000 / nm ** 2 })) },
    ]),
    absorption: d.pick<OwnMaterial['absorption']>([
      { by: 'value', perMm: d.between(0, 0.05) },
      { by: 'table', rows: rows(() => ({ perMm: d.between(0, 0.1) })) },
      { by: 'transmittance', thicknessMm: d.between(1, 20), rows: rows(() => ({ share: d.between(0.3, 1) })) },
    ]),
    densityKgM3: d.between(900, 4000),
    keepBelowC: d.pick([null, 80]),
    deflectionC: d.pick([null, 100]),
    ignitionC: d.pick([null, 400]),
  }
}

function randomTunnel(d: Dice, faceMm: number, lengthMm: number): Tunnel {
  return {
    sides: d.pick([0, 0, 3, 4, 6, 8, 12]),
    inMm: faceMm * d.between(0.7, 1.2),
    outMm: faceMm * d.between(0.5, 2.5),
    zInMm: d.pick([0, 5, d.between(0, 20)]),
    zOutMm: lengthMm,
    reflectance: d.pick([0, 0.6, 0.88, 0.97]),
    specularShare: d.pick([0, 0.9, 1]),
    scatterDeg: d.pick([0, 0.5, 4]),
  }
}

function randomOptic(d: Dice): OpticType {
  return d.pick<OpticType>([
    { kind: 'bare', id: 'o', name: '' },
    {
      kind: 'collimator',
      id: 'o',
      name: '',
      exitDiameterMm: d.between(5, 30),
      heightMm: d.between(5, 20),
      fwhmDeg: d.between(6, 90),
      shape: d.pick(['cosine', 'gaussian']),
      efficiency: d.between(0.7, 1),
    },
    {
      kind: 'reflector',
      id: 'o',
      name: '',
      focalMm: d.between(3, 12),
      exitDiameterMm: d.between(20, 60),
      reflectance: d.between(0.7, 1),
      shiftXMm: d.between(-1, 1),
      shiftYMm: d.between(-1, 1),
      shiftZMm: d.between(-2, 2),
    },
  ])
}

export function randomProfile(d: Dice): Profile {
  const thetaDeg = [0, 10, 25, 40, 60, 90]
  const row = () => thetaDeg.map(() => d.between(0, 1))
  return d.pick<Profile>([
    { kind: 'cosine', fwhmDeg: d.between(20, 160) },
    { kind: 'gaussian', fwhmDeg: d.between(5, 150) },
    { kind: 'table', thetaDeg, intensity: row() },
    { kind: 'map', thetaDeg, phiDeg: [0, 80, 180, 250], intensity: [row(), row(), row(), row()] },
  ])
}

function randomSpectrum(d: Dice): Spectrum {
  return d.pick<Spectrum>([
    { kind: 'white', classK: d.pick([3000, 4000, 5000, 6500]) },
    { kind: 'equalEnergy' },
    { kind: 'mono', wavelengthNm: d.between(430, 680) },
    { kind: 'table', power: Array.from({ length: 81 }, (_, i) => (i % 7 === 0 ? d.between(0, 1) : 0.2)) },
  ])
}

function randomLens(d: Dice, lengthMm: number): Lens | null {
  const kind = d.pick(['none', 'ideal', 'solid', 'fresnel', 'fresnel', 'fresnel'])
  const diameterMm = d.between(80, 400)
  const material = d.pick(['pmma', 'polycarbonate', 'crown'] as const)
  if (kind === 'none') return null
  if (kind === 'ideal') return { kind, zMm: lengthMm + d.between(1, 30), focalMm: d.between(80, 600), diameterMm }
  if (kind === 'solid') {
    const radiusMm = diameterMm * d.between(0.7, 2)
    const conic = d.pick([0, -1, -2.25, 0.3])
    const r2 = diameterMm ** 2 / 4
    const sag = r2 / radiusMm / (1 + Math.sqrt(1 - ((1 + conic) * r2) / radiusMm ** 2))
    const thicknessMm = sag + d.between(1, 10)
    return {
      kind,
      zMm: lengthMm + thicknessMm + d.between(1, 30),
      diameterMm,
      radiusMm,
      conic,
      thicknessMm,
      curved: d.pick(['target', 'source']),
      material,
    }
  }
  const pitchMm = d.pick([0.3, 1, 5])
  return {
    kind: 'fresnel',
    // Room for the tallest teeth.
    zMm: lengthMm + 5 * pitchMm + d.between(1, 30),
    focalMm: diameterMm * d.between(0.6, 2),
    diameterMm,
    aperture: d.pick(['round', 'round', 'square']),
    thicknessMm: d.between(1, 6),
    pitchMm,
    grooves: d.pick(['target', 'source']),
    draftDeg: d.pick([0, 3, 10]),
    tipShare: d.pick([0, 0, 0.05]),
    material,
    designNm: d.between(500, 620),
  }
}
