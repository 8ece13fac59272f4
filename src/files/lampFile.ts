// A lamp out of the bytes of a file, whichever it is: the document itself, a book as PDF, or a picture that was saved of it.
import { type ReadLamp, readLampText } from '../lamp/read.ts'
import { isPdf, lampFromPdf } from './lampInPdf.ts'
import { lampFromPng } from './lampInPng.ts'
import { isPng } from './png.ts'

/** By what stands at its beginning, not by its name. In words why there is none. */
export async function lampFromBytes(bytes: Uint8Array): Promise<ReadLamp> {
  if (isPng(bytes)) return lampFromPng(bytes)
  if (isPdf(bytes)) return lampFromPdf(bytes)
  // A byte-order mark is left out by the decoder.
  return readLampText(new TextDecoder('utf-8').decode(bytes))
}
