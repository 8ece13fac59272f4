// How a picture was exposed, from what the camera wrote into the file.
// Own code: packages that read EXIF bring makers' tables; five numbers take one walk through one directory.
// References: CIPA DC-008 (Exif 2.32), 4.6; TIFF 6.0, section 2; PNG (third edition), 11.3.3.4, chunk eXIf. From memory.

export interface ExposureData {
  timeS: number | null
  iso: number | null
  fNumber: number | null
  /** Focal length for 36 × 24 mm. */
  focal35Mm: number | null
}

const TAGS = { timeS: 0x829a, fNumber: 0x829d, iso: 0x8827, focal35Mm: 0xa405 } as const
const EXIF_DIRECTORY = 0x8769

/** Exposure of a JPEG or PNG file by its first bytes; what it doesn't say, or says as nonsense, is null. It never throws. */
export function readExposure(bytes: Uint8Array): ExposureData {
  const none: ExposureData = { timeS: null, iso: null, fNumber: null, focal35Mm: null }
  const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const at = tiffAt(data)
  if (at === null) return none
  try {
    return readTiff(new DataView(data.buffer, data.byteOffset + at, data.byteLength - at), none)
  } catch (error) {
    // A directory that points beyond the file.
    if (error instanceof RangeError) return none
    throw error
  }
}

/** Where the TIFF header begins; null: there is none. */
function tiffAt(data: DataView): number | null {
  if (data.byteLength >= 8 && data.getUint32(0) === 0x89504e47) return inPng(data)
  if (data.byteLength >= 4 && data.getUint16(0) === 0xffd8) return inJpeg(data)
  return null
}

function inJpeg(data: DataView): number | null {
  for (let i = 2; i + 10 <= data.byteLength; ) {
    if (data.getUint8(i) !== 0xff) return null
    const marker = data.getUint8(i + 1)
    // From the start of scan on there are no more headers.
    if (marker === 0xda) return null
    if (marker === 0xe1 && data.getUint32(i + 4) === 0x45786966 && data.getUint16(i + 8) === 0) return i + 10
    i += 2 + data.getUint16(i + 2)
  }
  return null
}

function inPng(data: DataView): number | null {
  for (let i = 8; i + 12 <= data.byteLength; ) {
    if (data.getUint32(i + 4) === 0x65584966) return i + 8
    i += 12 + data.getUint32(i)
  }
  return null
}

function readTiff(data: DataView, none: ExposureData): ExposureData {
  const little = data.getUint16(0) === 0x4949
  if (!little && data.getUint16(0) !== 0x4d4d) return none
  const first = entriesOf(data, data.getUint32(4, little), little)
  const pointer = first.get(EXIF_DIRECTORY)
  if (pointer === undefined) return none
  const found = entriesOf(data, pointer, little)
  const value = (tag: number): number | null => {
    const v = found.get(tag)
    return v !== undefined && Number.isFinite(v) && v > 0 ? v : null
  }
  return {
    timeS: value(TAGS.timeS),
    iso: value(TAGS.iso),
    fNumber: value(TAGS.fNumber),
    focal35Mm: value(TAGS.focal35Mm),
  }
}

/** Short, long and rational entries of a directory by tag; of several values the first. */
function entriesOf(data: DataView, at: number, little: boolean): Map<number, number> {
  const found = new Map<number, number>()
  const count = data.getUint16(at, little)
  for (let k = 0; k < count; k++) {
    const entry = at + 2 + 12 * k
    const [tag, type] = [data.getUint16(entry, little), data.getUint16(entry + 2, little)]
    if (type === 3) found.set(tag, data.getUint16(entry + 8, little))
    else if (type === 4) found.set(tag, data.getUint32(entry + 8, little))
    else if (type === 5) {
      const where = data.getUint32(entry + 8, little)
      found.set(tag, data.getUint32(where, little) / data.getUint32(where + 4, little))
    }
  }
  return found
}

/**
 * Natural logarithm of t · ISO/N², to which the signal of a camera is proportional (ISO 2720 has the same product in the meter's equation; from memory); ISO
 * 100 and f/1 where unknown: only differences count. Null: no time.
 */
export function logExposure({ timeS, iso, fNumber }: Pick<ExposureData, 'timeS' | 'iso' | 'fNumber'>): number | null {
  return timeS === null ? null : Math.log((timeS * (iso ?? 100)) / (fNumber ?? 1) ** 2)
}

/** Seconds of "1/250", "0.004 s", "1/250s"; null: it is none. */
export function readExposureTime(text: string): number | null {
  const found = /^\s*(?:(\d+(?:[.,]\d+)?)\s*\/)?\s*(\d*[.,]?\d+)\s*s?\s*$/.exec(text)
  if (!found) return null
  const number = (part: string) => Number(part.replace(',', '.'))
  const last = number(found[2] ?? '')
  const seconds = found[1] === undefined ? last : number(found[1]) / last
  return seconds > 0 && seconds < 1e4 ? seconds : null
}
