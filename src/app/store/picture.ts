// The picture of the view that is shown: each view says how to save its own while it is on the page.
import { type Caption, composeView, pictureColours, savePicture } from '../common/viewPicture.ts'
import { currentSevere } from './severe.ts'
import { design, result } from './stores.ts'

let take: (() => void) | null = null

/** Call when the view is mounted; returns a function that takes it back. */
export function offerPicture(save: () => void): () => void {
  take = save
  return () => {
    if (take === save) take = null
  }
}

/** False where the view can't be drawn. */
export function saveShownPicture(): boolean {
  take?.()
  return take !== null
}

/** Saves canvases that lie over one another; the first one's size counts. `what`: "Plan of the face". */
export function saveCanvases(layers: readonly HTMLCanvasElement[], kind: string, what: string): void {
  const [base] = layers
  if (!base) return
  const size = { width: base.clientWidth, height: base.clientHeight }
  const scale = base.width / Math.max(1, size.width)
  const caption = captionOf(what)
  const picture = composeView({ layers, size, scale, caption, colours: pictureColours(base) })
  if (picture) savePicture(picture, design.lamp(), kind)
}

function captionOf(what: string): Caption {
  const day = new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })
  const { sheet, stale } = result.getState()
  const rough = stale || sheet?.state !== 'settled' ? ' The trace had not settled.' : ''
  return {
    first: [design.lamp().name, what, day].join(' · '),
    second: `Estimate for planning.${rough}${severeWords()} The lamp is in this file: Lampwright opens it.`,
  }
}

/** A lamp with a severe finding can be shown, but never silently. */
export function severeWords(): string {
  const severe = currentSevere()
  if (severe === null) return ' Nothing was known of its dangers yet.'
  const [first] = severe
  if (first === undefined) return ''
  return severe.length === 1
    ? ` One severe finding: ${first}`
    : ` ${severe.length} severe findings, among them: ${first}`
}
