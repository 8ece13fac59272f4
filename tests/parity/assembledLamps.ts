// Lamps of several stretches and elements: each kind of part in one of them at least.
import type { Finish } from '../../src/lamp/assembly.ts'
import type { FresnelLens, Lamp, Lens, Tunnel } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

const base = gannetHead()
const tube = base.tunnel as Tunnel
const fresnel = base.lens as FresnelLens
const white: Finish = { reflectance: 0.85, specularShare: 0.3, scatterDeg: 4 }
const cover = { kind: 'cover', aperture: 'round', thicknessMm: 4, material: 'pmma' } as const
const solid: Lens = {
  kind: 'solid',
  zMm: 1060,
  diameterMm: 300,
  radiusMm: 420,
  conic: -0.6,
  thicknessMm: 30,
  curved: 'target',
  material: 'pmma',
}

/** One part of each kind at least, of few makes: each is a shader that the software device compiles for seconds. */
export const LAMPS: Record<string, () => Lamp> = {
  'five stretches with steps, a cover and a tilted rectangle of grooves': () => ({
    ...base,
    tunnel: {
      ...tube,
      joints: [
        { zMm: 150, belowMm: 240, aboveMm: 240, ...white },
        { zMm: 400, belowMm: 330, aboveMm: 380, ...white, scatterDeg: 1, specularShare: 0.9 },
        { zMm: 600, belowMm: 450, aboveMm: 400, ...white, specularShare: 1, scatterDeg: 0 },
        { zMm: 900, belowMm: 520, aboveMm: 520, ...white },
      ],
    },
    lens: {
      ...fresnel,
      zMm: 1120,
      aperture: 'rectangle',
      heightMm: 430,
      tiltXDeg: 4,
      tiltYDeg: -3,
      turnDeg: 20,
      decentreXMm: 12,
    },
    elements: [{ ...cover, name: 'Window', zMm: 1050, diameterMm: 560, tiltXDeg: 2 }],
  }),
  'a rectangular tunnel, grooves to the source beside the axis with rounded tips, a film and a coated cover': () => ({
    ...base,
    tunnel: {
      ...tube,
      sides: 4,
      inHeightMm: 150,
      outHeightMm: 400,
      outMm: 520,
      reflectanceByNm: [
        { nm: 400, reflectance: 0.7 },
        { nm: 550, reflectance: 0.93 },
        { nm: 700, reflectance: 0.8 },
      ],
      joints: [
        { zMm: 300, belowMm: 280, aboveMm: 320, belowHeightMm: 260, aboveHeightMm: 230, ...white },
        { zMm: 700, belowMm: 400, aboveMm: 400, belowHeightMm: 330, aboveHeightMm: 330, ...white, specularShare: 1 },
      ],
    },
    lens: {
      ...fresnel,
      zMm: 1080,
      grooves: 'source',
      tipShare: 0.04,
      diameterMm: 500,
      centreXMm: -60,
      centreYMm: 40,
      aperture: 'square',
      pitchMm: 2,
    },
    elements: [
      {
        name: 'Film',
        kind: 'diffuser',
        zMm: 1045,
        diameterMm: 540,
        aperture: 'square',
        spreadDeg: 3,
        transmittance: 0.85,
        reflectance: 0.1,
      },
      {
        ...cover,
        name: 'Window',
        zMm: 1140,
        diameterMm: 520,
        heightMm: 420,
        aperture: 'rectangle',
        surfaceReflectance: 0.03,
        tiltYDeg: 8,
      },
    ],
  }),
  'a polygon of two stretches, two solid pieces and an ideal lens': () => ({
    ...base,
    tunnel: { ...tube, sides: 6, outMm: 420, joints: [{ zMm: 500, belowMm: 300, aboveMm: 300, ...white }] },
    lens: { ...solid, diameterMm: 420, aperture: 'square', tiltYDeg: 5, radiusMm: 600, thicknessMm: 60 },
    elements: [
      {
        ...solid,
        name: 'Second',
        zMm: 1240,
        curved: 'source',
        decentreYMm: -15,
        centreXMm: 60,
        diameterMm: 460,
        radiusMm: 800,
        thicknessMm: 50,
      },
      { name: 'Third', kind: 'ideal', zMm: 1300, focalMm: 2000, diameterMm: 440, aperture: 'round', tiltXDeg: -6 },
    ],
  }),
  'no tunnel, a film that sends light back, and grooves': () => ({
    ...base,
    tunnel: null,
    lens: { ...fresnel, zMm: 240, focalMm: 300, decentreYMm: 20 },
    elements: [
      {
        name: 'Film',
        kind: 'diffuser',
        zMm: 180,
        diameterMm: 500,
        aperture: 'round',
        spreadDeg: 10,
        transmittance: 0.6,
        reflectance: 0.35,
        tiltXDeg: 10,
      },
    ],
  }),
}
