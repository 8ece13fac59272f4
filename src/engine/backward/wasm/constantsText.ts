// constants.as, written from the tables of src: npm run wasm.
import { constantsOf, withOptics } from '../../../optics/wasm/constantsText.ts'
import { SUM_HITS, SUM_LM, SUM_SQUARES, SUM_W } from '../estimator.ts'
import { CELL_ROW } from '../spectrum.ts'
import { AIM_KINDS, COUNTS, NUMBERS } from './slots.ts'

export const backwardConstants = (): string =>
  withOptics(
    constantsOf([
      ['M_', { SUM_HITS, SUM_LM, SUM_SQUARES, SUM_W }],
      ['O_', inOrder(NUMBERS)],
      ['N_', inOrder(COUNTS)],
      ['A_', inOrder(AIM_KINDS)],
      ['L_', { ...inOrder(CELL_ROW), size: CELL_ROW.length }],
    ]),
  )

const inOrder = (names: readonly string[]) => Object.fromEntries(names.map((name, i) => [name, i]))
