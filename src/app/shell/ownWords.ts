// Whose words keep the points that they were written with, on a page that writes commas.
import { keepWordsOf } from '../common/decimalMark.ts'
import { compare } from '../store/compare.ts'
import { storage } from '../store/pageStorage.ts'
import { design } from '../store/stores.ts'

/** Names and labels of the open lamp, of those beside it, and of those in the browser's storage. */
export const keepOwnWords = (): void =>
  keepWordsOf(() => [
    design.lamp(),
    ...storage.store.getState().lamps.map(({ name }) => name),
    ...compare.getState().lamps.map(({ lamp }) => lamp),
  ])
