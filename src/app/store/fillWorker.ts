/// <reference lib="webworker" />
// Fills a face away from the page's thread: the closest packings take a few tenths of a second.
import { expose } from 'comlink'
import { fillFace } from '../../layout/fill.ts'

const filler = { fillFace }
export type Filler = typeof filler
expose(filler)
