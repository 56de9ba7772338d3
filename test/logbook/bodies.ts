// Small invented bodies of records, for the tests of the store.
import type {
  Film,
  Lot,
  Measurement,
  Piece,
  Run,
  Series,
  Target,
  Treatment,
} from '../../src/records/kinds.ts';

export function seriesBody(label = 'invented series'): Series {
  return {
    label,
    aim: 'to test the store',
    isInvented: true,
    rareEarths: ['Y'],
    growth: { temperatureC: 850, po2Atm: 1e-3, meltOffsetJPerMol: 0 },
    coil: null,
    criteria: [],
    benchmarkPieceId: null,
    controlPieceId: null,
    note: '',
  };
}

export function lotBody(label = 'invented lot'): Lot {
  return {
    label,
    formula: 'CuO',
    lotNumber: '1',
    purity: 0.999,
    assay: null,
    isMetalsBasis: null,
    lossOnDrying: 0,
    dryingC: null,
    note: '',
  };
}

export function targetBody(label: string, lotIds: string[] = []): Target {
  return {
    label,
    cations: { Y: 1, Ba: 2, Cu: 3 },
    totalMassG: 20,
    lotIds,
    sheet: null,
    sinterGas: 'oxygen',
    sintering: null,
    filmAim: null,
    note: '',
  };
}

export function runBody(label: string, targetId: string | null): Run {
  return {
    label,
    targetId,
    startedAt: null,
    route: 'in situ',
    source: 'pulsed laser',
    energyAtTargetMj: null,
    energyBeforeWindowMj: null,
    energyAfterWindowMj: null,
    spotAreaMm2: null,
    distanceMm: null,
    repetitionHz: null,
    pulses: null,
    pulsesSinceResurfacing: null,
    preAblationPulses: null,
    rateNmPerS: null,
    chamberId: null,
    basePressurePa: null,
    temperature: null,
    pressure: null,
    mounting: '',
    isWindowCleaned: null,
    note: '',
  };
}

export function filmBody(label: string, runId: string | null): Film {
  return {
    label,
    runId,
    cations: null,
    substrate: 'SrTiO3',
    substrateLot: '',
    position: '',
    thicknessNm: null,
    depositionRateNmPerS: null,
    conversionRateNmPerS: null,
    overallRateNmPerS: null,
    note: '',
  };
}

export function pieceBody(label: string, filmId: string): Piece {
  return { label, filmId, lengthMm: 5, widthMm: 5, note: '' };
}

export function treatmentBody(label: string, pieceId: string): Treatment {
  return {
    label,
    pieceId,
    startedAt: null,
    segments: [{ kind: 'hold', toC: 450, durationS: 3600, po2Atm: 1, gas: 'oxygen' }],
    planId: null,
    chamberId: null,
    note: '',
  };
}

export function measurementBody(
  label: string,
  about: {
    pieceId: string;
    stateTreatmentId?: string;
    fileSha256: string;
    fileBytes: number;
    blob: string;
    rows?: number;
  },
): Measurement {
  return {
    label,
    pieceId: about.pieceId,
    stateTreatmentId: about.stateTreatmentId ?? null,
    fileName: `${label}.txt`,
    fileSha256: about.fileSha256,
    fileBytes: about.fileBytes,
    reader: { name: 'columns', version: 1 },
    mapping: {
      kind: 'resistance',
      block: 0,
      columns: [{ role: 'temperature', column: 0, unit: 'K' }],
    },
    settings: {},
    columns: { blob: about.blob, roles: ['temperature'], rows: about.rows ?? 1 },
    warnings: [],
    takenAt: null,
    note: '',
  };
}
