// npm run icons: the icon as pictures, for systems that take no SVG.
import { readFileSync, writeFileSync } from 'node:fs'
import { createCanvas, loadImage } from '@napi-rs/canvas'

const PUBLIC = new URL('../public/', import.meta.url)
const svg = readFileSync(new URL('icon.svg', PUBLIC), 'utf8')
/** A launcher cuts a maskable icon to a shape of its own: what counts stays in the middle four fifths (W3C Web Application Manifest). */
const full = svg.replace(' rx="4"', '')

for (const [name, px, text, share] of [
  ['icon-192', 192, svg, 1],
  ['icon-512', 512, svg, 1],
  ['icon-maskable-512', 512, full, 0.75],
]) {
  const canvas = createCanvas(px, px)
  const ctx = canvas.getContext('2d')
  const sized = text.replace('viewBox', `width="${px}" height="${px}" viewBox`)
  const image = await loadImage(Buffer.from(sized))
  if (share < 1) {
    ctx.fillStyle = '#161e22'
    ctx.fillRect(0, 0, px, px)
  }
  const edge = ((1 - share) / 2) * px
  ctx.drawImage(image, edge, edge, share * px, share * px)
  writeFileSync(new URL(`${name}.png`, PUBLIC), canvas.toBuffer('image/png'))
}
