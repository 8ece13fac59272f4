// The pages as they stand in this folder, and their pictures' addresses.

import { marked } from 'marked'
import { shownHtml } from '../common/decimalMark.ts'
import type { HandbookPage } from '../store/handbook.ts'

const TEXTS = import.meta.glob<string>('./pages/*.md', { query: '?raw', import: 'default', eager: true })
const PICTURES = import.meta.glob<string>('./pages/pictures/*.svg', {
  query: '?no-inline',
  import: 'default',
  eager: true,
})

/** A page as HTML. The text is the program's own: nothing of a lamp stands in it. */
export function pageHtml(page: HandbookPage): string {
  const text = TEXTS[`./pages/${page}.md`] ?? ''
  const placed = text.replace(
    /\]\((pictures\/[\w-]+\.svg)\)/g,
    (_, path: string) => `](${PICTURES[`./pages/${path}`] ?? ''})`,
  )
  return shownHtml(marked.parse(placed, { async: false, gfm: true }))
}
