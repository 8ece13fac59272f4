/// <reference lib="webworker" />
// Fills a face outside the page's thread: the closest packings take a few tenths of a second.
import { expose } from 'comlink'
import { fillFace } from '../../layout/fill.ts'

const filler = { fillFace }
export type FillWorker = typeof filler
expose(filler)
