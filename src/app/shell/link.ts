// A lamp in the page's address: made to be shared, and opened.
import { packLamp, unpackLamp } from '../../files/lampLink.ts'
import { isSame } from '../../lamp/changes.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type AddressWindow, clearAddress } from './address.ts'
import { fileFaults } from './files.ts'
import { design, shell, storage } from './page.ts'

const ENTRY = 'lamp'

/** Longer messages are cut by some chat programs (common practice, no source). */
export const LONG_LINK = 4000

/** Without the options of this page. */
export const linkTo = async (
  lamp: Lamp,
  { origin, pathname }: Pick<Location, 'origin' | 'pathname'>,
): Promise<string> => `${origin}${pathname}#${ENTRY}=${await packLamp(lamp)}`

/** Opens the lamp that the address holds as one of its own, and again when another address is given. */
export function followLinks(page: AddressWindow): void {
  const open = async () => {
    const packed = new URLSearchParams(page.location.hash.slice(1)).get(ENTRY)
    if (packed === null) return
    clearAddress(page)
    const read = await unpackLamp(packed)
    if (!read.ok) return shell.setState({ fileError: { file: '', link: true, why: fileFaults(read.why) } })
    if (isSame(read.lamp, design.lamp())) return
    await storage.add(read.lamp, 'From a link')
    storage.notify(
      `“${read.lamp.name}” came with the link and is kept here as a lamp of its own. Yours are under Lamps.`,
    )
  }
  page.addEventListener('hashchange', () => void open())
  void open()
}
