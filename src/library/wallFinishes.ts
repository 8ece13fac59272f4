// Finishes of the tunnel's wall and of the face. Typical values from memory unless a source is given: measure your own sheet if
// the answer depends on it. Specular share and scatter are rough by nature.

export interface WallFinish {
  id: string
  name: string
  /** Share of the arriving light sent back, all angles together. */
  reflectance: number
  /** Share of what is sent back that goes as a mirror would send it (blurred by scatterDeg); the rest goes everywhere. */
  specularShare: number
  /** Standard deviation of each of the two slopes about the mirror direction. */
  scatterDeg: number
  note: string
}

const memory = 'Typical, from memory.'

export const WALL_FINISHES: readonly WallFinish[] = [
  {
    id: 'silvered-film',
    name: 'Silvered mirror film',
    reflectance: 0.95,
    specularShare: 0.97,
    scatterDeg: 0.3,
    note: `${memory} Wrinkles and bubbles scatter more.`,
  },
  {
    id: 'lighting-sheet',
    name: 'Bright anodised lighting sheet',
    reflectance: 0.87,
    specularShare: 0.9,
    scatterDeg: 1,
    note: `${memory} Coated kinds reach 0.95.`,
  },
  {
    id: 'polished-aluminium',
    name: 'Polished aluminium sheet',
    reflectance: 0.8,
    specularShare: 0.7,
    scatterDeg: 3,
    note: `${memory} Dulls in use.`,
  },
  {
    id: 'bare-aluminium',
    name: 'Bare machined aluminium',
    reflectance: 0.7,
    specularShare: 0.3,
    scatterDeg: 8,
    note: memory,
  },
  {
    id: 'white-paint',
    name: 'White matt paint',
    reflectance: 0.85,
    specularShare: 0.03,
    scatterDeg: 5,
    note: `${memory} Paint can char in a hot spot.`,
  },
  {
    id: 'white-diffuse-sheet',
    name: 'White diffusing reflector sheet',
    reflectance: 0.97,
    specularShare: 0,
    scatterDeg: 0,
    note: `${memory} Clean and new.`,
  },
  { id: 'black-paint', name: 'Matt black paint', reflectance: 0.05, specularShare: 0.1, scatterDeg: 5, note: memory },
  {
    id: 'black-flock',
    name: 'Black flock',
    reflectance: 0.01,
    specularShare: 0,
    scatterDeg: 0,
    note: `${memory} It takes in all that falls on it: mind the heat.`,
  },
]

export interface FaceFinish {
  id: string
  name: string
  /** Share of returned light sent back, diffusely. */
  reflectance: number
  note: string
}

export const FACE_FINISHES: readonly FaceFinish[] = [
  { id: 'white-mask', name: 'White solder mask', reflectance: 0.8, note: `${memory} 0.70 to 0.85.` },
  { id: 'bare', name: 'Bare machined aluminium', reflectance: 0.7, note: memory },
  { id: 'black-anodised', name: 'Anodised black', reflectance: 0.05, note: memory },
]
