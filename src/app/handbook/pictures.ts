// The pictures are files of their own, drawn by a script with decimal points. Where the page shows commas, each is put into the page instead, with
// its numbers turned as every other text.
import { pageMark, shownHtml } from '../common/decimalMark.ts'

/** Puts the pictures of a page into it; one that doesn't come stays a picture. */
export async function turnPictures(page: Element, mark = pageMark): Promise<void> {
  if (mark === '.') return
  await Promise.all([...page.querySelectorAll('img')].map(turn))
}

async function turn(picture: HTMLImageElement): Promise<void> {
  const answer = await fetch(picture.src).catch(() => null)
  if (!answer?.ok) return
  const { documentElement: svg } = new DOMParser().parseFromString(shownHtml(await answer.text()), 'image/svg+xml')
  if (svg.localName !== 'svg') return
  svg.setAttribute('aria-label', picture.alt)
  picture.replaceWith(svg)
}
