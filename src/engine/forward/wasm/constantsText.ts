// constants.as, written from the tables of src: npm run wasm.
import { constantsOf, withOptics } from '../../../optics/wasm/constantsText.ts'
import { tallyLayout } from '../../../run/layout.ts'
import { LEAKED_SEGMENT, RETURNED_SEGMENT, SEGMENT_STRIDE } from '../../../run/segments.ts'
import { FATES, type TallyShape } from '../../../run/types.ts'
import { goesOn } from '../zones.ts'
import { binCounts, binNumbers } from './slots.ts'

/** Any shape: names and order are the same for all, and so are the places up to the profile. */
const SOME: TallyShape = {
  fineHalfRad: 0.1,
  fineBins: 1,
  coarseBins: 1,
  windowN: 1,
  sphereGamma: 1,
  sphereC: 1,
  axialConeHalfRad: 0.01,
  target: { n: 1, zMm: 1, halfXMm: 1, halfYMm: 1, centreMm: 1 },
  lens: null,
  wall: null,
  face: { n: 1, halfMm: 1 },
}

export function constantsText(): string {
  const layout = tallyLayout(SOME)
  const { fateW, fateLm, emitted, axialLm, targetCentreLm, profileLm } = layout
  return withOptics(
    constantsOf([
      ['F_', Object.fromEntries(FATES.map((name, i) => [name, i]))],
      // A bit for each line of light that goes on into the open.
      ['', { OPEN_LINES: goesOn.reduce((bits, open, line) => (open ? bits | (1 << line) : bits), 0) }],
      ['', { LEAKED_SEGMENT, RETURNED_SEGMENT, SEGMENT_STRIDE }],
      ['T_', { fateW, fateLm, emitted, axialLm, targetCentreLm, profileLm }],
      ['B_', inOrder(binNumbers(SOME))],
      ['N_', inOrder(binCounts(SOME, layout))],
    ]),
  )
}

const inOrder = (names: object) => Object.fromEntries(Object.keys(names).map((name, i) => [name, i]))
