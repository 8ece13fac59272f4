// The lamp's document out of a book: the attachment lamp.json of a PDF.
import type { PDFDocument, PDFRawStream } from '@cantoo/pdf-lib'
import { type ReadLamp, readLampText } from '../lamp/read.ts'
import { inflateAtMost } from './inflate.ts'
import { LAMP_BYTES } from './lampBytes.ts'

/** Of the attachment. */
export const ATTACHED_NAME = 'lamp.json'

/** ISO 32000-1, 7.5.2: the header stands at the beginning. */
export const isPdf = (bytes: Uint8Array): boolean => String.fromCharCode(...bytes.subarray(0, 5)) === '%PDF-'

/** In words why there is none. The library is loaded when it is called. */
export async function lampFromPdf(bytes: Uint8Array): Promise<ReadLamp> {
  if (!isPdf(bytes)) return refused('It is no PDF.')
  try {
    const lib = await import('@cantoo/pdf-lib')
    const doc = await lib.PDFDocument.load(bytes, { updateMetadata: false })
    const stream = attachedStream(lib, doc)
    if (!stream) return refused('The PDF holds no lamp: only a book that this program made does.')
    const attached = await contentsOf(lib, stream)
    if (!attached) return refused('What is attached to the PDF is too large for a lamp.')
    return readLampText(new TextDecoder('utf-8', { fatal: true }).decode(attached))
  } catch (error) {
    return refused(isEncrypted(error) ? 'The PDF is encrypted.' : 'The PDF is damaged.')
  }
}

type Library = typeof import('@cantoo/pdf-lib')

/** Of the file specification (ISO 32000-1, 7.11.3) with our name, wherever another program may have put it. */
function attachedStream({ PDFDict, PDFName, PDFRawStream, PDFHexString, PDFString }: Library, doc: PDFDocument) {
  for (const [, object] of doc.context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFDict)) continue
    const name = object.lookup(PDFName.of('UF')) ?? object.lookup(PDFName.of('F'))
    const files = object.lookup(PDFName.of('EF'))
    if (!(name instanceof PDFHexString || name instanceof PDFString) || !(files instanceof PDFDict)) continue
    const stream = files.lookup(PDFName.of('F'))
    if (name.decodeText() === ATTACHED_NAME && stream instanceof PDFRawStream) return stream
  }
  return null
}

/** Null where it is too large. */
function contentsOf({ PDFArray, PDFName }: Library, stream: PDFRawStream): Promise<Uint8Array | null> {
  const stated = stream.dict.lookup(PDFName.of('Filter'))
  const filter = stated instanceof PDFArray && stated.size() === 1 ? stated.lookup(0) : stated
  const contents = new Uint8Array(stream.contents)
  if (filter === undefined) return Promise.resolve(contents)
  if (filter !== PDFName.of('FlateDecode')) throw new Error('filter of another kind')
  return inflateAtMost(contents, LAMP_BYTES)
}

const refused = (why: string): ReadLamp => ({ ok: false, why: [why] })
const isEncrypted = (error: unknown): boolean => error instanceof Error && /encrypted/i.test(error.message)
