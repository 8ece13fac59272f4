// Lamps of several stretches and elements: each kind of part in one of them at least.
import type { Finish } from '../../src/lamp/assembly.ts'
import type { Element, FresnelLens, Lamp, SolidLens, Tunnel } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

const base = gannetHead()
const tube = base.tunnel as Tunnel
const grooved = base.lens as FresnelLens
const white: Finish = { reflectance: 0.85, specularShare: 0.3, scatterDeg: 4 }
const mirror: Finish = { reflectance: 0.9, specularShare: 1, scatterDeg: 0 }
const cover = { name: 'Cover', kind: 'cover', aperture: 'round', thicknessMm: 4, material: 'pmma' } as const
const film = { name: 'Film', kind: 'diffuser', aperture: 'square', diameterMm: 540, spreadDeg: 3 } as const
const solid: SolidLens = {
  kind: 'solid',
  zMm: 1060,
  diameterMm: 420,
  radiusMm: 600,
  conic: -0.6,
  thicknessMm: 60,
  curved: 'target',
  material: 'pmma',
}

const joint = (zMm: number, belowMm: number, aboveMm: number, of: Finish) => ({ zMm, belowMm, aboveMm, ...of })

/** A rectangle whose reflectance varies with the wavelength; film, grooves to the source beside their axis with rounded tips, coated cover. */
function rectangular(): Lamp {
  const tall = (belowHeightMm: number, aboveHeightMm: number) => ({ belowHeightMm, aboveHeightMm })
  const reflectanceByNm = [400, 550, 700].map((nm, i) => ({ nm, reflectance: 0.7 + 0.1 * i }))
  const sizes = { sides: 4, inHeightMm: 150, outMm: 520, outHeightMm: 400 }
  const joints = [
    { ...joint(300, 280, 320, white), ...tall(260, 230) },
    { ...joint(700, 400, 400, mirror), ...tall(330, 330) },
  ]
  const elements: Element[] = [
    { ...film, zMm: 1045, transmittance: 0.85, reflectance: 0.1 },
    {
      ...cover,
      zMm: 1140,
      diameterMm: 520,
      heightMm: 420,
      aperture: 'rectangle',
      surfaceReflectance: 0.03,
      tiltYDeg: 8,
    },
  ]
  const piece = { diameterMm: 500, aperture: 'square', centreXMm: -60, centreYMm: 40 } as const
  const lens: FresnelLens = { ...grooved, ...piece, zMm: 1080, grooves: 'source', tipShare: 0.04, pitchMm: 2 }
  return { ...base, tunnel: { ...tube, ...sizes, reflectanceByNm, joints }, lens, elements }
}

/** Round stretches with a step up and a step down; a tilted cover, two solid pieces, an ideal lens. */
function round(): Lamp {
  const joints = [
    joint(150, 240, 240, white),
    joint(400, 330, 380, { ...white, scatterDeg: 1 }),
    joint(600, 450, 400, mirror),
    joint(900, 410, 410, white),
  ]
  const elements: Element[] = [
    { ...cover, zMm: 1050, diameterMm: 440, tiltXDeg: 1 },
    { ...solid, name: 'Second', zMm: 1260, curved: 'source', decentreYMm: -15, centreXMm: 60, radiusMm: 800 },
    { name: 'Third', kind: 'ideal', zMm: 1320, focalMm: 2000, diameterMm: 440, aperture: 'round', tiltXDeg: -6 },
  ]
  const lens: SolidLens = { ...solid, zMm: 1080, aperture: 'square', tiltYDeg: 5 }
  return { ...base, tunnel: { ...tube, ...white, outMm: 420, joints }, lens, elements }
}

/** A polygon, and a rectangle of grooves that is moved, tilted and turned. */
function polygonal(): Lamp {
  const joints = [joint(500, 300, 340, white), joint(800, 460, 460, mirror)]
  const placed = { tiltXDeg: 4, tiltYDeg: -3, turnDeg: 20, decentreXMm: 12 }
  const lens: FresnelLens = { ...grooved, ...placed, zMm: 1120, aperture: 'rectangle', heightMm: 430 }
  return { ...base, tunnel: { ...tube, sides: 6, joints }, lens, elements: [{ ...cover, zMm: 1050, diameterMm: 560 }] }
}

/** No tunnel; a tilted film that sends much light back. */
function open(): Lamp {
  const lens: FresnelLens = { ...grooved, zMm: 240, focalMm: 300, decentreYMm: 20 }
  const elements: Element[] = [
    { ...film, zMm: 180, tiltXDeg: 10, spreadDeg: 10, transmittance: 0.6, reflectance: 0.35 },
  ]
  return { ...base, tunnel: null, lens, elements }
}

export const ASSEMBLED = { rectangular, round, polygonal, open }
export type AssembledName = keyof typeof ASSEMBLED
