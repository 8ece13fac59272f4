// Prints every sentence of the page, the terminal and the printed pages, by room and file, for reading aloud: `npm run sentences`, `npm run sentences -- hazard`.
import { readdirSync, readFileSync } from 'node:fs'
import { parseSync } from 'vite'

const only = process.argv[2] ?? ''

/** Texts of two words or more, and single words that begin with a capital; `…` stands for a value. */
const shown = (text) => /\p{L}{2,}\s+\S/u.test(text) || /^\p{Lu}\p{Ll}+$/u.test(text)

/** Keys of attributes and imports are no words for anyone. */
const SILENT = new Set(['className', 'd', 'viewBox', 'id', 'key', 'htmlFor', 'transform', 'points'])

function sentences(path) {
  const found = []
  const add = (text) => {
    const tidy = text.replace(/\s+/g, ' ').trim()
    if (shown(tidy)) found.push(tidy)
  }
  const visit = (node) => {
    if (Array.isArray(node)) return node.forEach(visit)
    if (node === null || typeof node !== 'object') return
    if (/^(Import|Export(All|Named)).*Declaration$/.test(node.type) && node.source) return
    if (
      node.type?.startsWith('TS') &&
      node.type !== 'TSAsExpression' &&
      node.type !== 'TSNonNullExpression' &&
      node.type !== 'TSSatisfiesExpression'
    )
      return
    if (node.type === 'JSXAttribute' && SILENT.has(node.name?.name)) return
    // A bug's message is for programmers.
    if (node.type === 'ThrowStatement') return
    if (node.type === 'JSXText') add(node.value)
    else if (node.type === 'Literal' && typeof node.value === 'string') add(node.value)
    else if (node.type === 'TemplateLiteral') add(node.quasis.map((q) => q.value.cooked).join('…'))
    Object.values(node).forEach(visit)
  }
  visit(parseSync(path, readFileSync(path, 'utf8')).program)
  return found
}

const paths = readdirSync('src', { recursive: true }).filter((path) => /\.tsx?$/.test(path) && path.startsWith(only))
for (const path of paths.sort().map((below) => `src/${below}`)) {
  const found = sentences(path)
  if (found.length > 0) console.log(`\n${path}\n${found.map((text) => `  ${text}`).join('\n')}`)
}
