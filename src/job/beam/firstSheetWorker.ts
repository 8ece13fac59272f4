/// <reference lib="webworker" />
// A worker of the browser that reads first looks.
import { type FirstLookOrder, handedWith, readFirstLook } from './firstSheet.ts'

self.onmessage = ({ data }: MessageEvent<FirstLookOrder>) => {
  const answer = readFirstLook(data)
  self.postMessage(answer, 'shares' in answer ? handedWith(answer.shares) : [])
}
self.postMessage(null)
