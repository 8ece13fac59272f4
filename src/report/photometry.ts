// Words that go into photometric files and ray files.
import type { RayFileTexts } from '../files/tm25.ts'
import type { InputPower } from '../job/power/inputPower.ts'

export const photometryInputWords = (of: InputPower['of']): string =>
  of === 'supply'
    ? 'what is drawn from the supply at that moment, by computation'
    : 'those of the emitters alone, without drivers and wires, by computation'

/** `light`: which light was traced, in words; `version`: of the program. */
export const rayFileTexts = (lamp: string, light: string, version: string): RayFileTexts => ({
  name: lamp,
  maker: 'One-off, built by its owner',
  modelAuthor: `Lampwright ${version}, a computer program`,
  fileAuthor: `Lampwright ${version}, a computer program`,
  equipment: 'None. A computed prediction by ray tracing; nothing was measured.',
  camera: 'None',
  source: light,
  more: 'Frame: z is the axis of the lamp, from its face (z = 0) to the target; x right, y up, seen from the target. Millimetres. Rays start on the last surface that they left. Columns: x, y, z, direction, W, wavelength in nm, lm (W times 683.002 V of CIE 1924).',
  reference: '',
})
