// How much is traced: the usual suite takes the short amounts, `npm run test:long` the long ones (more seeds, lamps and rays of the same tests).

const LONG = process.env['LAMPWRIGHT_LONG'] === '1'

export const amount = <T>(short: T, long: T): T => (LONG ? long : short)
