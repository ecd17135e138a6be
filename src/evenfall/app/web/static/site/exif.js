// When and where a photo was taken, and how large it is: read from its first bytes, before it is shrunk.
import { bytesOf } from './hash.js'

const FIRST = 512 * 1024, DEEPEST = 16
const IFD = 0x8769, GPS = 0x8825, TAKEN = 0x9003, ZONE = 0x9011

/** Read `{ wide, high, at, lat, lon }`; what is not told stays null. */
export async function about(file) {
  const found = { wide: null, high: null, at: null, lat: null, lon: null }
  const view = new DataView(await bytesOf(file.slice(0, FIRST)))
  try {
    if (view.getUint16(0) === 0xffd8) await jpeg(file, view, found)
    else if (view.getUint32(0) === 0x89504e47) { found.wide = view.getUint32(16); found.high = view.getUint32(20) }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error // a photo that is cut short tells nothing
  }
  return found
}

/** Walk the segments of a JPEG; a long one is stepped over by reading on behind it. */
async function jpeg(file, view, found) {
  let at = 2, from = 0
  for (let n = 0; n < 400; n++) {
    if (at - from + 20 > view.byteLength) {
      if (at + 20 > file.size) return
      from = at
      view = new DataView(await bytesOf(file.slice(from, from + FIRST)))
    }
    const here = at - from, sign = view.getUint16(here)
    if (sign >> 8 !== 0xff || sign === 0xffda) return
    if (sign >= 0xffc0 && sign <= 0xffcf && sign !== 0xffc4 && sign !== 0xffc8 && sign !== 0xffcc) {
      found.high = view.getUint16(here + 5)
      found.wide = view.getUint16(here + 7)
      return
    }
    if (sign === 0xffe1 && view.getUint32(here + 4) === 0x45786966) { // "Exif"
      try { told(new DataView(view.buffer, view.byteOffset + here + 10), found) } catch (error) { if (!(error instanceof RangeError)) throw error }
    }
    at += 2 + view.getUint16(here + 2)
  }
}

function told(view, found) {
  const little = view.getUint16(0) === 0x4949
  const first = tags(view, view.getUint32(4, little), little)
  if (first[IFD] && first[IFD].length) {
    const more = tags(view, first[IFD][0], little)
    found.at = moment(more[TAKEN], more[ZONE])
  }
  if (first[GPS] && first[GPS].length) {
    const place = tags(view, first[GPS][0], little)
    found.lat = degrees(place[2], place[1], 'S', 90)
    found.lon = degrees(place[4], place[3], 'W', 180)
    if (found.lat == null || found.lon == null) found.lat = found.lon = null
  }
}

/** Read one table of tags: words, whole numbers and fractions. */
function tags(view, at, little) {
  const found = {}, many = Math.min(view.getUint16(at, little), 200)
  for (let n = 0; n < many; n++) {
    const row = at + 2 + n * 12, kind = view.getUint16(row + 2, little), count = view.getUint32(row + 4, little)
    const size = { 2: 1, 3: 2, 4: 4, 5: 8 }[kind]
    if (!size || count > 64) continue
    const place = size * count <= 4 ? row + 8 : view.getUint32(row + 8, little)
    try {
      if (kind === 2) found[view.getUint16(row, little)] = Array.from({ length: count }, (_, i) => String.fromCharCode(view.getUint8(place + i))).join('').replace(/\0.*$/, '')
      else found[view.getUint16(row, little)] = Array.from({ length: Math.min(count, DEEPEST) }, (_, i) => kind === 3 ? view.getUint16(place + i * 2, little)
        : kind === 4 ? view.getUint32(place + i * 4, little) : view.getUint32(place + i * 8, little) / view.getUint32(place + i * 8 + 4, little))
    } catch (error) { if (!(error instanceof RangeError)) throw error } // that tag points out of the file
  }
  return found
}

function moment(text, zone) {
  const m = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(text || '')
  if (!m || isNaN(new Date(`${m[1]}-${m[2]}-${m[3]}T${m[4]}Z`))) return null
  return `${m[1]}-${m[2]}-${m[3]}T${m[4]}${/^[+-]\d\d:\d\d$/.test(zone || '') ? zone : ''}`
}

function degrees(parts, side, minus, most) {
  if (!parts || parts.length < 3) return null
  const value = (parts[0] + parts[1] / 60 + parts[2] / 3600) * (side && side[0] === minus ? -1 : 1)
  return isFinite(value) && Math.abs(value) <= most ? +value.toFixed(6) : null
}
