// The sun inside, beside and behind the lamp (said.ts).
import { expectSaid } from './said.ts'

expectSaid(['inside', 'beside', 'behind', 'shortTunnel'])
