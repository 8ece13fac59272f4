// Finishes of the tunnel's wall and of the face: reflectance over the wavelength near normal incidence, all angles of leaving together. Most
// figures are typical and from memory, with the source they are remembered from; `doubtful` says by how much a real sheet may differ. Measure
// your own if the answer depends on it. Specular share and scatter are rough by nature.
// References: [1] G. Hass, “Mirror coatings”, Applied Optics and Optical Engineering III (1965). [2] IES Lighting Handbook, 8th edition (1993), table of
// reflecting materials. [3] P. Schissel and others, “Silvered-PMMA reflectors”, Sol. Energy Mater. Sol. Cells 33 (1994) 183. [4] R. Levinson, P. Berdahl,
// H. Akbari, “Solar spectral optical properties of pigments, part II”, Sol. Energy Mater. Sol. Cells 89 (2005) 351. [5] DIN 5036-3 (integrating sphere).
// [6] V. Pozzobon and others, “Household aluminum foil matte and bright side reflectivity measurements”, Biotechnology Reports 25 (2020) e00399.
// [7] Y. S. Touloukian, D. P. DeWitt, Thermophysical Properties of Matter 7 (1970), metals. [8] ASHRAE Handbook Fundamentals, solar
// properties of surfaces. Values of all of them from memory.
import { type Finish, stretchesOf } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { linear } from '../num/interpolate.ts'
import { gridNm, spectrumPower } from './spectra.ts'

type Row = readonly [nm: number, reflectance: number]

interface FinishRow {
  id: string
  name: string
  /** Share of the arriving light sent back, all angles together; straight lines in between. */
  byNm: readonly Row[]
  /** Share of what is sent back that goes as a mirror would send it (blurred by scatterDeg); the rest goes everywhere. */
  specularShare: number
  /** Standard deviation of each of the two slopes about the mirror direction. */
  scatterDeg: number
  /** Reflectance of real sheets of that name: so much more or less. */
  doubtful: number
  source: string
  note: string
}

export interface WallFinish extends FinishRow {
  /** Share of the power of white light (5000 K class, 380 to 780 nm) sent back: the mean of `byNm` over it. */
  reflectance: number
}

/** From 3000 to 6500 K the means differ by less than 0.02 (tested). */
const WHITE = { kind: 'white', classK: 5000 } as const

/** Mean of a table of reflectance over white light by power, rounded to a thousandth: Σ ρP / ΣP on the 5 nm grid. Rows rise in nm; constant beyond their ends. */
export function meanReflectance(rows: readonly Row[], white: Parameters<typeof spectrumPower>[0] = WHITE): number {
  const nms = rows.map(([nm]) => nm)
  const values = rows.map(([, r]) => r)
  const power = spectrumPower(white)
  const all = power.reduce((sum, p) => sum + p, 0)
  const sent = power.reduce((sum, p, i) => sum + p * linear(nms, values, gridNm(i)), 0)
  return Math.round((1000 * sent) / all) / 1000
}

/**
 * Share of the lamp's own light that its clean wall takes in at a height, 0 to 1: of the stretches within `aboutMm` the darkest, for the
 * spectrum of the emitter that it takes most of. The hot side. 0 without a tunnel.
 */
export function wallTakesIn(lamp: Lamp, zMm: number, aboutMm: number): number {
  const { tunnel } = lamp
  if (!tunnel) return 0
  const boardTypes = new Set(lamp.boards.map((b) => b.type))
  const emitters = new Set(lamp.boardTypes.filter(({ id }) => boardTypes.has(id)).map(({ emitter }) => emitter))
  const spectra = lamp.emitterTypes.filter(({ id }) => emitters.has(id)).map(({ spectrum }) => spectrum)
  const near = stretchesOf(tunnel).filter((s) => s.zInMm <= zMm + aboutMm && s.zOutMm >= zMm - aboutMm)
  const sentBack = (near.length > 0 ? near : stretchesOf(tunnel)).map(({ reflectance, reflectanceByNm }) => {
    const rows = reflectanceByNm?.map((r) => [r.nm, r.reflectance] as const)
    return rows ? Math.min(...spectra.map((of) => meanReflectance(rows, of)), 1) : reflectance
  })
  return 1 - Math.min(...sentBack)
}

/** What a stretch of the tunnel takes over from a finish of the library. */
export const finishFields = ({ name, reflectance, specularShare, scatterDeg, byNm }: WallFinish): Required<Finish> => ({
  reflectance,
  specularShare,
  scatterDeg,
  reflectanceByNm: byNm.map(([nm, r]) => ({ nm, reflectance: r })),
  finish: name,
})

/** A finish of the library by its id, which it must have. */
export function finishById(id: string): WallFinish {
  const found = WALL_FINISHES.find((f) => f.id === id)
  if (!found) throw new Error(`library: no finish "${id}"`)
  return found
}

/** The tunnel, or one joint of it, with a finish of the library in place of its own. */
export const withFinish = <A extends Finish>(stretch: A, finish: WallFinish): A => ({
  ...stretch,
  ...finishFields(finish),
})

const memory = 'from memory'
/** Of 380, 420, 460, 500, 550, 600, 650, 700, 780 nm. */
const NM = [380, 420, 460, 500, 550, 600, 650, 700, 780] as const
const over = (...values: readonly number[]): Row[] => NM.map((nm, i) => [nm, values[i] ?? Number.NaN])
const flat = (reflectance: number): Row[] => [[550, reflectance]]

const ROWS: readonly FinishRow[] = [
  {
    id: 'silvered-film',
    name: 'Silvered mirror film',
    // Silver behind acrylic whose stabiliser takes the violet.
    byNm: over(0.4, 0.9, 0.935, 0.945, 0.952, 0.956, 0.958, 0.96, 0.96),
    specularShare: 0.97,
    scatterDeg: 0.3,
    doubtful: 0.03,
    source: `[3], ${memory}`,
    note: 'Wrinkles and bubbles scatter more. Its adhesive comes loose when hot.',
  },
  {
    id: 'coated-lighting-sheet',
    name: 'Coated lighting sheet (aluminium or silver under oxides)',
    byNm: over(0.85, 0.91, 0.935, 0.945, 0.95, 0.95, 0.945, 0.94, 0.92),
    specularShare: 0.93,
    scatterDeg: 0.6,
    doubtful: 0.02,
    source: `sheets by [5], ${memory}`,
    note: 'Bends along its rolling lines blur it more across them.',
  },
  {
    id: 'lighting-sheet',
    name: 'Bright anodised lighting sheet',
    // Aluminium of [1] under anodic oxide: 0.95 of it.
    byNm: over(0.86, 0.877, 0.876, 0.872, 0.869, 0.865, 0.86, 0.852, 0.83),
    specularShare: 0.9,
    scatterDeg: 1,
    doubtful: 0.03,
    source: `[2], 0.85 to 0.90; course over the wavelength as [1]; ${memory}`,
    note: 'Electro-brightened, then anodised. Coated kinds reach 0.95.',
  },
  {
    id: 'aluminised-mirror',
    name: 'Evaporated aluminium, new',
    byNm: over(0.925, 0.924, 0.921, 0.918, 0.915, 0.911, 0.906, 0.897, 0.874),
    specularShare: 0.99,
    scatterDeg: 0.2,
    doubtful: 0.02,
    source: `[1], ${memory}; 0.55 µm: 0.915, second-hand`,
    note: 'Bare it scratches at a touch and dulls within months.',
  },
  {
    id: 'polished-aluminium',
    name: 'Polished aluminium sheet',
    byNm: over(0.77, 0.79, 0.8, 0.8, 0.8, 0.8, 0.8, 0.79, 0.77),
    specularShare: 0.7,
    scatterDeg: 3,
    doubtful: 0.07,
    source: `[2], 0.60 to 0.85; ${memory}`,
    note: 'Dulls in use.',
  },
  {
    id: 'mill-aluminium',
    name: 'Plain aluminium sheet, as rolled',
    byNm: over(0.66, 0.69, 0.7, 0.71, 0.71, 0.71, 0.71, 0.7, 0.68),
    specularShare: 0.5,
    scatterDeg: 8,
    doubtful: 0.08,
    source: `[8] and [2], ${memory}`,
    note: 'Blurs more across the rolling lines than along them.',
  },
  {
    id: 'bare-aluminium',
    name: 'Bare machined aluminium',
    byNm: over(0.66, 0.68, 0.69, 0.7, 0.7, 0.7, 0.7, 0.69, 0.67),
    specularShare: 0.3,
    scatterDeg: 8,
    doubtful: 0.1,
    source: `[2], 0.55 to 0.70; ${memory}`,
    note: 'By the tool’s marks.',
  },
  {
    id: 'aluminium-foil',
    name: 'Aluminium foil, bright side',
    byNm: over(0.84, 0.85, 0.855, 0.86, 0.86, 0.86, 0.86, 0.855, 0.84),
    specularShare: 0.75,
    scatterDeg: 5,
    doubtful: 0.05,
    source: `[6], 0.86 on both sides; ${memory}. Crumples: common practice, no source`,
    note: 'Smooth as it comes; once crumpled its specular share is near zero.',
  },
  {
    id: 'aluminium-tape',
    name: 'Aluminium foil tape',
    byNm: over(0.8, 0.82, 0.825, 0.83, 0.83, 0.83, 0.83, 0.825, 0.81),
    specularShare: 0.6,
    scatterDeg: 6,
    doubtful: 0.07,
    source: `foil as [6], lacquered; ${memory}`,
    note: 'Its adhesive gives way from about 80 °C on; seams and bubbles scatter more.',
  },
  {
    id: 'mirror-acrylic',
    name: 'Mirror acrylic, 3 mm',
    // Aluminium of [1] behind acrylic: a surface of 4 %, twice 3 mm of acrylic, a metal that reflects less against it.
    byNm: over(0.6, 0.81, 0.83, 0.83, 0.83, 0.82, 0.81, 0.8, 0.77),
    specularShare: 0.98,
    scatterDeg: 0.4,
    doubtful: 0.04,
    source: `[1] and Fresnel’s formulas, ${memory}`,
    note: 'It takes in a sixth of the light and softens from 70 °C on: for weak lamps only.',
  },
  {
    id: 'polished-stainless',
    name: 'Polished stainless steel',
    byNm: over(0.52, 0.55, 0.57, 0.59, 0.61, 0.63, 0.645, 0.66, 0.68),
    specularShare: 0.9,
    scatterDeg: 1,
    doubtful: 0.05,
    source: `[7], 18-8 steel; [2], 0.50 to 0.60; ${memory}`,
    note: 'It keeps two fifths of the light as heat and carries it badly: hot spots stay where they are.',
  },
  {
    id: 'galvanised-steel',
    name: 'Bare galvanised steel, new',
    byNm: over(0.5, 0.55, 0.58, 0.59, 0.6, 0.61, 0.61, 0.62, 0.62),
    specularShare: 0.3,
    scatterDeg: 10,
    doubtful: 0.15,
    source: `[8], 0.60 to 0.65 new; ${memory}. 0.62 in a test of roof deck, second-hand`,
    note: 'Weathered it falls to 0.2 to 0.4. Where it gets hot its zinc discolours.',
  },
  {
    id: 'white-paint',
    name: 'White matt paint',
    // Titanium dioxide, rutile: its edge lies at 400 to 420 nm.
    byNm: [
      [380, 0.08],
      [400, 0.35],
      [410, 0.6],
      [420, 0.76],
      [440, 0.84],
      [480, 0.88],
      [550, 0.89],
      [700, 0.89],
      [780, 0.88],
    ],
    specularShare: 0.03,
    scatterDeg: 5,
    doubtful: 0.05,
    source: `[4], rutile white; [2], 0.75 to 0.90; ${memory}`,
    note: 'Paint can char in a hot spot.',
  },
  {
    id: 'white-gloss-paint',
    name: 'White gloss paint',
    byNm: [
      [380, 0.09],
      [400, 0.34],
      [410, 0.58],
      [420, 0.74],
      [440, 0.82],
      [480, 0.86],
      [550, 0.87],
      [700, 0.87],
      [780, 0.86],
    ],
    // Its surface sends 4 % of the light back as a mirror, at normal incidence.
    specularShare: 0.05,
    scatterDeg: 1.5,
    doubtful: 0.05,
    source: `[4] under a clear surface of 4 % (Fresnel); [2], 0.75 to 0.90; ${memory}`,
    note: 'More of a mirror at grazing angles than is traced. Paint can char in a hot spot.',
  },
  {
    id: 'white-plastic',
    name: 'White plastic of a bin (PVC, ABS, polypropylene)',
    byNm: [
      [380, 0.08],
      [400, 0.3],
      [410, 0.52],
      [420, 0.68],
      [440, 0.77],
      [480, 0.82],
      [550, 0.84],
      [700, 0.85],
      [780, 0.85],
    ],
    specularShare: 0.05,
    scatterDeg: 3,
    doubtful: 0.08,
    source: `rutile as [4], less of it; ${memory}`,
    note: 'A thin wall lets some light through, and it yellows. It softens from 60 to 90 °C on and burns.',
  },
  {
    id: 'white-diffuse-sheet',
    name: 'White diffusing reflector sheet',
    byNm: over(0.93, 0.96, 0.968, 0.972, 0.974, 0.974, 0.973, 0.972, 0.97),
    specularShare: 0,
    scatterDeg: 0,
    doubtful: 0.02,
    source: `sheets by [5], ${memory}`,
    note: 'Clean and new.',
  },
  {
    id: 'grey-plastic',
    name: 'Grey plastic',
    byNm: flat(0.25),
    specularShare: 0.16,
    scatterDeg: 3,
    doubtful: 0.1,
    source: `any, ${memory}`,
    note: 'It takes in most of the light, softens from 60 to 90 °C on and burns.',
  },
  {
    id: 'black-paint',
    name: 'Matt black paint',
    byNm: flat(0.05),
    specularShare: 0.1,
    scatterDeg: 5,
    doubtful: 0.02,
    source: `[8], ${memory}`,
    note: 'It takes in all that falls on it: mind the heat.',
  },
  {
    id: 'black-flock',
    name: 'Black flock',
    byNm: flat(0.01),
    specularShare: 0,
    scatterDeg: 0,
    doubtful: 0.01,
    source: memory,
    note: 'It takes in all that falls on it: mind the heat.',
  },
]

/** Means are worked out where they are read: what loads this file, every worker among them, mostly asks for none. */
export const WALL_FINISHES: readonly WallFinish[] = ROWS.map((row) => ({
  ...row,
  get reflectance() {
    return meanReflectance(row.byNm)
  },
  note: `${row.note} Typical, from memory: ± ${row.doubtful}.`,
}))

export interface FaceFinish {
  id: string
  name: string
  /** Share of returned light sent back, diffusely. */
  reflectance: number
  note: string
}

export const FACE_FINISHES: readonly FaceFinish[] = [
  { id: 'white-mask', name: 'White solder mask', reflectance: 0.8, note: `Typical, from memory: 0.70 to 0.85.` },
  { id: 'bare', name: 'Bare machined aluminium', reflectance: 0.7, note: 'Typical, from memory.' },
  { id: 'black-anodised', name: 'Anodised black', reflectance: 0.05, note: 'Typical, from memory.' },
]
