/// <reference lib="webworker" />
// A worker of the browser that reads first looks.
import { type FirstSheetRequest, partialsTransferList, readFirstSheet } from './firstSheet.ts'

self.onmessage = ({ data }: MessageEvent<FirstSheetRequest>) => {
  const answer = readFirstSheet(data)
  self.postMessage(answer, 'partials' in answer ? partialsTransferList(answer.partials) : [])
}
self.postMessage(null)
