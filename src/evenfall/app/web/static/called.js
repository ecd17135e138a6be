// What was called or typed, read as a roofer says it.

const FOOT = 304.8
const INCH = 25.4
const UNITS = { m: 1000, mm: 1, cm: 10 }

/** Give {value, text} in the unit asked, {ask, value, text} where it is only likely, or {wrong}. Lengths
 * are in m or mm; other units are plain numbers. */
export function read(typed, unit) {
  const text = typed.trim().replace(/\s+/g, ' ').replace('−', '-').toLowerCase()
  if (!text) return { wrong: 'Nothing typed yet.' }
  if (!(unit === 'm' || unit === 'mm')) {
    const found = /^(?:1 ?: ?|1 in )?(-?\d+(?:[.,]\d+)?) ?[a-z%°/²³£ ]*$/.exec(text)
    return found ? plain(Number(found[1].replace(',', '.')), unit) : { wrong: 'A number, please.' }
  }
  const feet = /^(?:(\d+(?:\.\d+)?) ?(?:'|’|′|ft|feet|foot) ?)?(?:(\d+(?:\.\d+)?) ?(?:"|”|″|''|ins?|inch|inches)?)?$/.exec(text)
  if (feet && /['’′"”″fi]/.test(text)) {
    const mm = Number(feet[1] ?? 0) * FOOT + Number(feet[2] ?? 0) * INCH
    return { ask: `That is feet and inches. ${typed.trim()} is ${said(mm, unit)}?`, ...length(mm, unit) }
  }
  const both = /^(-?\d+) ?m ?(\d{1,3}) ?(cm|mm)?$/.exec(text)
  if (both) {
    const part = both[3] === 'mm' || both[2].length === 3 ? 1 : 10
    return length(Number(both[1]) * 1000 + Number(both[2]) * part, unit)
  }
  const one = /^(-?\d+(?:[.,]\d+)?|-?[.,]\d+) ?(mm|cm|m)?$/.exec(text)
  if (!one) return { wrong: 'A length, please: 3.45, 3450 or 3 m 45.' }
  const n = Number(one[1].replace(',', '.'))
  const whole = Number.isInteger(n)
  if (one[2]) return length(n * UNITS[one[2]], unit)
  if (unit === 'm') return length(whole && Math.abs(n) >= 100 ? n : n * 1000, unit)
  return length(!whole && Math.abs(n) < 6 ? n * 1000 : n, unit)
}

const plain = (value, unit) => ({ value, text: unit ? `${value} ${unit}` : `${value}` })
const said = (mm, unit) => (unit === 'm' ? `${(mm / 1000).toFixed(3)} m` : `${Math.round(mm * 10) / 10} mm`)
const length = (mm, unit) => ({
  value: unit === 'm' ? Math.round(mm) / 1000 : Math.round(mm * 10) / 10, text: said(mm, unit),
})
