// What the architecture tests read off a syntax tree, by the parser that the build uses.
import { parseSync } from 'vite'

interface Node {
  type: string
  start: number
  end: number
  [key: string]: unknown
}

function walk(node: unknown, visit: (node: Node, parent: Node | null) => void, parent: Node | null = null): void {
  if (Array.isArray(node)) for (const one of node) walk(one, visit, parent)
  else if (node !== null && typeof node === 'object') {
    const here = typeof (node as Node).type === 'string' ? (node as Node) : null
    if (here) visit(here, parent)
    for (const value of Object.values(node))
      if (value !== null && typeof value === 'object') walk(value, visit, here ?? parent)
  }
}

function programOf(path: string, text: string): unknown {
  const { program, errors } = parseSync(path, text)
  if (errors.length > 0) throw new Error(`${path}: ${errors[0]!.message}`)
  return program
}

const literal = (node: unknown): string | null => {
  const n = node as { type?: string; value?: unknown } | null | undefined
  return n?.type === 'Literal' && typeof n.value === 'string' ? n.value : null
}

const imports = new Map<string, string[]>()

/** Every module a file names: imports, re-exports, import(), types by import(), and new URL(…, import.meta.url). */
export function importsOf(path: string, text: string): string[] {
  const known = imports.get(text)
  if (known) return known
  const found: string[] = []
  imports.set(text, found)
  walk(programOf(path, text), (node) => {
    const named =
      node.type === 'NewExpression' && (node['callee'] as { name?: string }).name === 'URL'
        ? literal((node['arguments'] as unknown[])[0])
        : /^(Import|Export|TSImport)/.test(node.type)
          ? (literal(node['source']) ?? literal(node['argument']))
          : null
    if (named !== null) found.push(named)
  })
  return found
}

/** Modules that are loaded before the file runs: imports and re-exports of values. */
export function loadedFirst(path: string, text: string): string[] {
  return (programOf(path, text) as { body: Node[] }).body.flatMap((node) => {
    const source = literal(node['source'])
    return source === null || node['importKind'] === 'type' || node['exportKind'] === 'type' ? [] : [source]
  })
}

export interface FunctionSize {
  name: string
  line: number
  lines: number
}

/** Functions of a file and how many lines each spans, nested ones as well. */
export function functionsOf(path: string, text: string): FunctionSize[] {
  const found: FunctionSize[] = []
  walk(programOf(path, text), (node, parent) => {
    if (!/^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(node.type)) return
    const name = (node['id'] ?? parent?.['id'] ?? parent?.['key']) as { name?: string } | undefined
    found.push({
      name: name?.name ?? '(unnamed)',
      line: lineAt(text, node.start),
      lines: lineAt(text, node.end) - lineAt(text, node.start) + 1,
    })
  })
  return found
}

export interface ExportedFunction {
  name: string
  line: number
  /** A doc comment stands directly before it, with more in it than its name. */
  documented: boolean
}

/** Functions that a file exports by name: declarations, and constants that hold a function. */
export function exportedFunctionsOf(path: string, text: string): ExportedFunction[] {
  const found: ExportedFunction[] = []
  for (const node of (programOf(path, text) as { body: Node[] }).body) {
    const declared = node['declaration'] as Node | null | undefined
    if (!/^Export(Named|Default)Declaration$/.test(node.type) || !declared) continue
    const documented = endsInDocComment(text.slice(0, node.start))
    const add = (name: string) => found.push({ name, line: lineAt(text, node.start), documented })
    if (isFunction(declared)) add((declared['id'] as { name: string } | null)?.name ?? 'default')
    for (const one of (declared['declarations'] as Node[] | undefined) ?? [])
      if (isFunction(one['init'])) add((one['id'] as { name: string }).name)
  }
  return found
}

const isFunction = (node: unknown): boolean =>
  /^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test((node as Node | null)?.type ?? '')

/** At most one line break between comment and code: a comment apart belongs to something else. */
function endsInDocComment(before: string): boolean {
  const comment = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/[ \t]*\r?\n?[ \t]*$/.exec(before)
  return comment !== null && /\w{2,}/.test(comment[1]!)
}

let breaks: { text: string; at: number[] } = { text: '', at: [] }

function lineAt(text: string, offset: number): number {
  if (breaks.text !== text) breaks = { text, at: Array.from(text.matchAll(/\n/g), (found) => found.index) }
  let [low, high] = [0, breaks.at.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (breaks.at[middle]! < offset) low = middle + 1
    else high = middle
  }
  return low + 1
}

/** Non-null assertions of a file: after an element of an array, and after anything else. */
export function nonNullIn(path: string, text: string): { index: number; other: number } {
  const counts = { index: 0, other: 0 }
  walk(programOf(path, text), (node) => {
    if (node.type !== 'TSNonNullExpression') return
    const of = node['expression'] as { type: string; computed?: boolean }
    counts[of.type === 'MemberExpression' && of.computed ? 'index' : 'other']++
  })
  return counts
}

/** Names that a file declares: variables, functions, parameters, parts of what is taken apart. */
export function namesIn(path: string, text: string): { name: string; line: number }[] {
  const found: { name: string; line: number }[] = []
  const take = (pattern: unknown): void => {
    const node = pattern as Node | null | undefined
    if (!node) return
    if (node.type === 'Identifier') found.push({ name: String(node['name']), line: lineAt(text, node.start) })
    else if (node.type === 'ObjectPattern') for (const part of node['properties'] as Node[]) take(part['value'] ?? part)
    else if (node.type === 'ArrayPattern') for (const part of node['elements'] as Node[]) take(part)
    else if (node.type === 'AssignmentPattern') take(node['left'])
    else if (node.type === 'RestElement') take(node['argument'])
  }
  walk(programOf(path, text), (node) => {
    if (node.type === 'VariableDeclarator') take(node['id'])
    if (!/^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(node.type)) return
    take(node['id'])
    for (const parameter of node['params'] as Node[]) take(parameter)
  })
  return found
}
