// What each command is typed like, for its --help. A test holds them against the options.

export const COMMAND_USES = {
  trace: ['trace demo', 'trace my.lamp.json --rays 2e7 --json', 'trace demo --rays 1e9 --engine auto'],
  check: ['check my.lamp.json', 'check my.lamp.json --json > findings.json'],
  danger: ['danger my.lamp.json', 'danger demo --rays 4e6'],
  sweep: [
    'sweep demo --list',
    'sweep demo --vary lens.zMm=1000:1100:11',
    'sweep demo --vary lens.focalMm=900:1100:6 --vary tunnel.sides=4,6,8 --csv sweep.csv',
  ],
  optimize: [
    'optimize demo --list',
    'optimize demo --move lens.zMm+tunnel.zOutMm=900..1200 --want "candela max" --out best.lamp.json',
    'optimize demo --move lens.focalMm=600..1200 --move tunnel.section=any --want "beam = 8" --keep "length <= 1200" --state search.jsonl',
    'optimize demo --move lens.zMm+tunnel.zOutMm=500..1200 --want "candela max" --want "length min" --json',
    'optimize demo --move lens.zMm+tunnel.zOutMm=500..1200 --want "candela max" --starts 64 --part 3/8 --out part-3.json',
  ],
  tolerances: [
    'tolerances demo --list',
    'tolerances my.lamp.json --lamps 500',
    'tolerances demo --lamps 2000 --part 3/8 --out part-3.json',
  ],
  merge: ['merge part-1.json part-2.json', 'merge part-1.json part-2.json --out whole.json --json'],
  measure: [
    'measure plan demo',
    'measure plan my.lamp.json --wall 8 --csv --out readings.csv',
    'measure fit my.lamp.json readings.csv',
    'measure fit my.lamp.json readings.csv --adopt 1 --out as-built.lamp.json',
    'measure picture my.lamp.json wall.png --marks 560,510,3400,360,3520,2700,440,2520 --size 2000,1500 --lux-at 2000,1500 --lux 850 --wall 5 --out read.lamp.json',
  ],
  compare: ['compare my.lamp.json changed.lamp.json', 'compare demo stile-lamp ice-rink --json'],
  wish: [
    'wish --candela 1e6 --minutes 10 --length 800',
    'wish --lux 50 --distance 30 --size 10 --minutes 30 --width 400 --out-dir lamps',
    'wish wish.json --pack 8:4 --json',
  ],
  heat: ['heat my.lamp.json', 'heat demo --mode turbo'],
  wiring: ['wiring my.lamp.json', 'wiring demo --csv > wiring.csv'],
  draw: ['draw demo --list', 'draw demo --sheet face', 'draw demo --sheet face --format dxf --out face.dxf'],
  parts: ['parts demo --order', 'parts demo --csv --out parts.csv'],
  solid: ['solid demo --list', 'solid demo --part assembly --out lamp.glb'],
  optics: ['optics demo', 'optics --list', 'optics demo --paraboloid 60:200:560 --to curved.lamp.json'],
  source: ['source demo --rays emitter.tm25ray', 'source demo --rays emitter.tm25ray --centre --to measured.lamp.json'],
  photometry: [
    'photometry demo --format lm63 --out demo.ies',
    'photometry demo --format tm25 --rays 1e6 --out demo.tm25ray',
  ],
  book: ['book my.lamp.json', 'book demo --quick --out lamp.html', 'book demo --chapters'],
  new: ['new my', 'new path-light --as stile-lamp'],
  completion: [
    'completion bash > ~/.lampwright-completion',
    'completion bash | sudo tee /etc/bash_completion.d/lampwright',
    'completion zsh > ~/.zsh/completions/_lampwright',
  ],
} as const
