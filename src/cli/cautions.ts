// Said below every sheet.
export const CAUTIONS: readonly string[] = [
  'Cover the lens in daylight: the sun falling in burns boards and wall in seconds, lamp on or off.',
  'Never look into a lamp like this, nor point it at people, animals, drivers or pilots.',
  'The dangers here are a screening, on the hot side where inputs are uncertain. Classing a lamp as safe for eyes and skin belongs to a laboratory.',
  'The lamp is computed as drawn. Parts cut and set by hand differ: measure before trusting it, from low current upwards.',
]
