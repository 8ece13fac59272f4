// A lamp as the end of a link: its document, deflated (RFC 1951) and written in the letters of an address (base64url, RFC 4648, section 5).
// What stands behind the # of an address is never sent to a server (RFC 3986, section 3.5).
import { type ReadLamp, readLampText } from '../lamp/read.ts'
import type { Lamp } from '../lamp/schema.ts'
import { inflateAtMost } from './inflate.ts'
import { LAMP_BYTES } from './lampBytes.ts'

/** Of what follows: another form would get another number. */
const FORM = '1.'

export async function packLamp(lamp: Lamp): Promise<string> {
  const text = new Blob([JSON.stringify(lamp)])
  const packed = new Response(text.stream().pipeThrough(new CompressionStream('deflate-raw')))
  return `${FORM}${lettersOf(new Uint8Array(await packed.arrayBuffer()))}`
}

/** In words why there is none. */
export async function unpackLamp(packed: string): Promise<ReadLamp> {
  if (!/^\d+\./.test(packed)) return refused('The link holds no lamp.')
  if (!packed.startsWith(FORM)) return refused('The link was made by a newer version of this program.')
  const bytes = bytesOf(packed.slice(FORM.length))
  if (!bytes) return refused(CUT)
  try {
    const text = await inflateAtMost(bytes, LAMP_BYTES, 'deflate-raw')
    if (!text) return refused('What the link holds is too large for a lamp.')
    return readLampText(new TextDecoder('utf-8', { fatal: true }).decode(text))
  } catch {
    return refused(CUT)
  }
}

const CUT =
  'The link is cut off or changed. Some programs shorten long links: ask for it again, or for the lamp’s file.'
const refused = (why: string): ReadLamp => ({ ok: false, why: [why] })

function lettersOf(bytes: Uint8Array): string {
  let binary = ''
  for (const byte of bytes) binary += String.fromCharCode(byte)
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '')
}

/** Null where they are none. */
function bytesOf(letters: string): Uint8Array<ArrayBuffer> | null {
  if (!/^[\w-]+$/.test(letters)) return null
  try {
    return Uint8Array.from(atob(letters.replaceAll('-', '+').replaceAll('_', '/')), (c) => c.charCodeAt(0))
  } catch {
    return null
  }
}
