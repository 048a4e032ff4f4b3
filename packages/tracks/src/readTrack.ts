// Any track log from its text: the format is told by its beginning.
import type { TrackMapping } from '@stillprop/contracts';
import { readCsv } from './readCsv.js';
import { readGpx } from './readGpx.js';
import { readIgc } from './readIgc.js';
import { readNmea } from './readNmea.js';
import { refused, type TrackLog, type TrackRead } from './trackLog.js';

const LONGEST_TEXT = 64 * 1024 * 1024;

/**
 * Reads GPX, IGC and NMEA logs as they are, and CSV with a mapping; a mapping always means CSV. Never throws: what
 * cannot be used is refused in one sentence.
 */
export function readTrack(source: string, mapping?: TrackMapping): TrackRead {
  if (source.length > LONGEST_TEXT) return refused('the track log is larger than 64 MB: cut it to the one flight');
  const text = source.replace(/^\uFEFF/, '');
  if (text.trim() === '') return refused('the track log is empty');
  if (text.startsWith('PK\u0003\u0004') || text.startsWith('\u001F'))
    return refused('the track log is compressed: unpack it first');
  if (text.slice(0, 4096).includes('\u0000'))
    return refused('the track log is not text: save it as GPX, IGC, NMEA or CSV');
  if (mapping !== undefined) return readCsv(text, mapping);
  switch (formatOf(text)) {
    case 'gpx':
      return readGpx(text);
    case 'igc':
      return readIgc(text);
    case 'nmea':
      return readNmea(text);
    default:
      return refused('the track log is neither GPX, IGC nor NMEA: a CSV file needs a mapping of its columns');
  }
}

function formatOf(text: string): TrackLog['format'] | null {
  const start = text.slice(0, 20_000);
  if (/^\s*</.test(start)) return 'gpx';
  if (/^B\d{13}[NS]\d{8}[EW][AV]/m.test(start) || /^HFDTE/m.test(start)) return 'igc';
  return /^\s*[$!][A-Z]{2}/m.test(start) ? 'nmea' : null;
}
