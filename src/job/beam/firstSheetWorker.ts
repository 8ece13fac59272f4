/// <reference lib="webworker" />
// A worker of the browser that reads first sheets.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveFirstSheets } from './firstSheet.ts'

serveFirstSheets(selfSide())
