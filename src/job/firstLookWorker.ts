/// <reference lib="webworker" />
// A worker of the browser that reads first looks.
import { handedWith, type LookOrder, readFirstLook } from './firstLook.ts'

self.onmessage = ({ data }: MessageEvent<LookOrder>) => {
  const answer = readFirstLook(data)
  self.postMessage(answer, 'shares' in answer ? handedWith(answer.shares) : [])
}
self.postMessage(null)
