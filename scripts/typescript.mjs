// node --import ./scripts/typescript.mjs FILE.ts: files of TypeScript run as they are.
import { register } from 'node:module'

register('./typescriptHooks.mjs', import.meta.url)
