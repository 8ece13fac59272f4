/// <reference lib="webworker" />
// A browser's worker that traces the cells of a sweep.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveCells } from './serveCells.ts'

serveCells(selfSide())
