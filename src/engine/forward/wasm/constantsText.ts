// constants.as, written from the tables of src: npm run wasm.
import * as E from '../../../optics/emitterRow.ts'
import * as D from '../../../optics/firstDraws.ts'
import * as K from '../../../optics/kindRow.ts'
import * as P from '../../../optics/params.ts'
import { BY_RAYS, ROW_ALIAS, ROW_DX, ROW_NM, ROW_SHARE, ROW_SIZE, ROW_X } from '../../../optics/rayTable.ts'
import * as R from '../../../optics/records.ts'
import * as G from '../../../optics/ringRow.ts'
import { tallyLayout } from '../../../run/layout.ts'
import { FATES, type TallyShape } from '../../../run/types.ts'
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
  const groups: [string, Record<string, number>][] = [
    ['', R],
    ['', D],
    ['P_', P],
    ['E_', E],
    ['K_', K],
    ['G_', G],
    ['R_', { BY_RAYS, ROW_ALIAS, ROW_DX, ROW_NM, ROW_SHARE, ROW_SIZE, ROW_X }],
    ['F_', Object.fromEntries(FATES.map((name, i) => [name, i]))],
    ['T_', { fateW, fateLm, emitted, axialLm, targetCentreLm, profileLm }],
    ['B_', inOrder(binNumbers(SOME, 1))],
    ['N_', inOrder(binCounts(SOME, layout))],
  ]
  const lines = groups.flatMap(([mark, numbers]) =>
    Object.keys(numbers)
      .sort()
      .map((name) => `export const ${mark}${name}: i32 = ${numbers[name]}`),
  )
  return `// Written by npm run wasm from the tables of src. Not to be edited.\n${lines.join('\n')}\n`
}

const inOrder = (names: object) => Object.fromEntries(Object.keys(names).map((name, i) => [name, i]))
