// The door of the package: refuses impossible numbers with one sentence that names field, value and allowed range.
import type {
  AircraftNumbers,
  FailureNumbers,
  FlightStart,
  FlyRequest,
  OtherRunway,
  RunwayNumbers,
  TechniqueNumbers,
  WeatherNumbers,
} from './request.js';

/** Of the sink with the handbook's propeller state; own choice: stopping a propeller is worth 20 % at most in what is published. */
const LEAST_SINK_SHARE = 0.6;
const PROPELLERS = ['coarse', 'stopped', 'windmillingFine'] as const;
const TURNS = ['best', 'left', 'right', 'ahead'] as const;
const SURFACES = ['paved', 'dry-grass', 'wet-grass', 'wet-paved'] as const;

/** @throws {RangeError} If a number of a request is impossible; the message names field, value and allowed range. */
export function checkFlyRequest(request: FlyRequest): void {
  checkAircraft(request.aircraft);
  checkRunway(request.runway);
  checkWeather(request.weather);
  checkTechnique(request.technique, request.aircraft);
  checkFailure(request.failure, request.aircraft);
}

/** A request together with the moment it starts from. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkAttemptInputs(request: FlyRequest, start: FlightStart | undefined): void {
  checkFlyRequest(request);
  if (start !== undefined) checkFlightStart(start);
}

/** Handbook numbers of an aeroplane. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkAircraft(aircraft: AircraftNumbers): void {
  const at = 'aircraft.';
  within(`${at}massKg`, aircraft.massKg, 100, 10_000, 'kg');
  if (aircraft.referenceMassKg !== undefined) {
    within(`${at}referenceMassKg`, aircraft.referenceMassKg, 100, 10_000, 'kg');
    const ratio = aircraft.massKg / aircraft.referenceMassKg;
    if (!(ratio >= 0.5 && ratio <= 1.5))
      refuse(
        `${at}massKg`,
        aircraft.massKg,
        `half to one and a half times ${at}referenceMassKg (${aircraft.referenceMassKg} kg)`,
      );
  }
  within(`${at}wingAreaM2`, aircraft.wingAreaM2, 3, 100, 'm²');
  within(`${at}wingSpanM`, aircraft.wingSpanM, 3, 40, 'm');
  within(`${at}stallCleanKcas`, aircraft.stallCleanKcas, 20, 150, 'kt');
  within(`${at}stallLandingKcas`, aircraft.stallLandingKcas, 20, aircraft.stallCleanKcas, 'kt (stallCleanKcas)');
  within(`${at}bestGlideKcas`, aircraft.bestGlideKcas, aircraft.stallCleanKcas, 200, 'kt, not below stallCleanKcas');
  within(`${at}bestGlideRatio`, aircraft.bestGlideRatio, 3, 40, '');
  oneOf(`${at}bestGlidePropeller`, aircraft.bestGlidePropeller, PROPELLERS);
  for (const state of PROPELLERS) {
    const factor = aircraft.propellerSinkFactor[state];
    if (factor !== undefined) within(`${at}propellerSinkFactor.${state}`, factor, 0.5, 3, '');
  }
  checkSinkFactors(aircraft);
  const points = aircraft.climb.length;
  if (points !== 1 && points !== 2) refuse(`${at}climb.length`, points, '1 or 2 (climb points)');
  aircraft.climb.forEach((point, index) => {
    within(`${at}climb[${index}].kcas`, point.kcas, aircraft.stallCleanKcas, 200, 'kt, not below stallCleanKcas');
    within(`${at}climb[${index}].rateFpm`, point.rateFpm, 50, 6_000, 'ft/min');
    if (point.rateFpm > 50 * point.kcas)
      refuse(
        `${at}climb[${index}].rateFpm`,
        point.rateFpm,
        `at most ${50 * point.kcas} ft/min (a 30° climb) at ${point.kcas} kt`,
      );
  });
  const [first, second] = aircraft.climb;
  if (first !== undefined && second !== undefined && Math.abs(first.kcas - second.kcas) < 3)
    refuse(`${at}climb[1].kcas`, second.kcas, `at least 3 kt away from climb[0].kcas (${first.kcas})`);
  within(`${at}gearDragCoefficient`, aircraft.gearDragCoefficient, 0, 0.2, '');
  within(`${at}flapDragCoefficient`, aircraft.flapDragCoefficient, 0, 0.3, '');
  if (aircraft.takeoffFigure !== undefined) oneOf(`${at}takeoffFigure`, aircraft.takeoffFigure, ['today', 'handbook']);
  within(`${at}takeoffTo50FtFt`, aircraft.takeoffTo50FtFt, 200, 20_000, 'ft');
  within(`${at}landingRollFt`, aircraft.landingRollFt, 50, 20_000, 'ft');
}

/**
 * Half of the drag at best glide is induced: a propeller that halved the sink would leave the airframe no drag of its own.
 * @throws {RangeError} as {@link checkFlyRequest}.
 */
function checkSinkFactors(aircraft: AircraftNumbers): void {
  const handbook = aircraft.propellerSinkFactor[aircraft.bestGlidePropeller] ?? 1;
  for (const state of PROPELLERS) {
    const factor = aircraft.propellerSinkFactor[state];
    if (factor !== undefined && factor < LEAST_SINK_SHARE * handbook)
      refuse(
        `aircraft.propellerSinkFactor.${state}`,
        factor,
        `at least ${LEAST_SINK_SHARE} of the factor of bestGlidePropeller (${aircraft.bestGlidePropeller}, ${handbook})`,
      );
  }
}

/** A runway. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkRunway(runway: RunwayNumbers): void {
  within('runway.lengthFt', runway.lengthFt, 300, 20_000, 'ft');
  within('runway.widthFt', runway.widthFt, 10, 1_000, 'ft');
  within('runway.headingTrueDeg', runway.headingTrueDeg, 0, 360, '°');
  within('runway.elevationFt', runway.elevationFt, -1_500, 10_000, 'ft');
  oneOf('runway.surface', runway.surface, SURFACES);
  if (runway.slopePercent !== undefined) within('runway.slopePercent', runway.slopePercent, -10, 10, '%');
  if (runway.takeoffStartFt !== undefined)
    within('runway.takeoffStartFt', runway.takeoffStartFt, 0, runway.lengthFt - 100, 'ft, within the runway');
  within('runway.airfield.beyondEndFt', runway.airfield.beyondEndFt, 0, 20_000, 'ft');
  within('runway.airfield.besideFt', runway.airfield.besideFt, 0, 20_000, 'ft');
  const others = runway.others ?? [];
  if (others.length > 12) refuse('runway.others.length', others.length, '0 to 12 (other runways)');
  others.forEach(checkOther);
}

function checkOther(runway: OtherRunway, index: number): void {
  const at = `runway.others[${index}].`;
  within(`${at}lengthFt`, runway.lengthFt, 300, 20_000, 'ft');
  within(`${at}widthFt`, runway.widthFt, 10, 1_000, 'ft');
  within(`${at}headingTrueDeg`, runway.headingTrueDeg, 0, 360, '°');
  oneOf(`${at}surface`, runway.surface, SURFACES);
  if (runway.slopePercent !== undefined) within(`${at}slopePercent`, runway.slopePercent, -10, 10, '%');
  within(`${at}startAlongFt`, runway.startAlongFt, -30_000, 30_000, 'ft');
  within(`${at}startAcrossFt`, runway.startAcrossFt, -30_000, 30_000, 'ft');
}

/** Today's air. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkWeather(weather: WeatherNumbers): void {
  within('weather.temperatureC', weather.temperatureC, -60, 60, '°C');
  within('weather.qnhHpa', weather.qnhHpa, 850, 1_100, 'hPa');
  weather.winds.forEach((wind, index) => {
    within(`weather.winds[${index}].heightFt`, wind.heightFt, 3, 20_000, 'ft above the runway');
    within(`weather.winds[${index}].fromTrueDeg`, wind.fromTrueDeg, 0, 360, '°');
    within(`weather.winds[${index}].speedKt`, wind.speedKt, 0, 100, 'kt');
    if (weather.winds.findIndex((other) => other.heightFt === wind.heightFt) !== index)
      refuse(`weather.winds[${index}].heightFt`, wind.heightFt, 'a height no other wind is given for');
  });
}

/** A technique for an aeroplane. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkTechnique(technique: TechniqueNumbers, aircraft: AircraftNumbers): void {
  const at = 'technique.';
  const stall = aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  const least = Math.ceil(stall * 10) / 10;
  const speed = (name: string, value: number) =>
    within(`${at}${name}`, value, least, 200, `kt (${least} is the stall at this mass)`);
  speed('climbKcas', technique.climbKcas);
  within(`${at}delayS`, technique.delayS, 0, 30, 's');
  speed('targetKcas', technique.targetKcas);
  if (technique.straightKcas !== undefined) speed('straightKcas', technique.straightKcas);
  if (technique.alignKcas !== undefined) speed('alignKcas', technique.alignKcas);
  if (technique.turnEntryKcas !== undefined) speed('turnEntryKcas', technique.turnEntryKcas);
  if (technique.alignTimeS !== undefined) within(`${at}alignTimeS`, technique.alignTimeS, 1, 10, 's');
  for (const name of ['bankKept', 'speedEased'] as const)
    if (![undefined, true, false].includes(technique[name])) refuse(`${at}${name}`, technique[name], 'true or false');
  within(`${at}bankDeg`, technique.bankDeg, 5, 70, '°');
  if (technique.alignBankDeg !== undefined)
    within(`${at}alignBankDeg`, technique.alignBankDeg, 3, technique.bankDeg, '° (bankDeg)');
  oneOf(`${at}turn`, technique.turn, TURNS);
  within(`${at}stallMargin`, technique.stallMargin, 0.9, 2, '');
  within(`${at}rollRateDegS`, technique.rollRateDegS, 2, 180, '°/s');
  within(`${at}minimumLoadFactor`, technique.minimumLoadFactor, 0, 1, '');
  if (technique.gearDownHeightFt !== null) within(`${at}gearDownHeightFt`, technique.gearDownHeightFt, 0, 20_000, 'ft');
  if (technique.flapDownHeightFt !== null) within(`${at}flapDownHeightFt`, technique.flapDownHeightFt, 0, 20_000, 'ft');
  if (technique.sideslipDragCoefficient !== undefined)
    within(`${at}sideslipDragCoefficient`, technique.sideslipDragCoefficient, 0, 0.08, '');
}

/** A failure of an aeroplane's engine. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkFailure(failure: FailureNumbers, aircraft: AircraftNumbers): void {
  within('failure.heightFt', failure.heightFt, 50, 6_000, 'ft above the runway');
  within('failure.powerFraction', failure.powerFraction, 0, 0.99, '');
  oneOf('failure.propeller', failure.propeller, PROPELLERS);
  const changes = failure.powerChanges ?? [];
  if (changes.length > 500) refuse('failure.powerChanges.length', changes.length, '0 to 500 (changes)');
  changes.forEach(({ atS, powerFraction }, index) => {
    const at = `failure.powerChanges[${index}].`;
    within(`${at}atS`, atS, index === 0 ? 0 : (changes[index - 1]?.atS ?? 0) + 0.05, 600, 's, rising by 0.05 or more');
    within(`${at}powerFraction`, powerFraction, 0, 0.99, '');
  });
  const known =
    failure.propeller === aircraft.bestGlidePropeller || aircraft.propellerSinkFactor[failure.propeller] !== undefined;
  if (!known)
    refuse(
      'failure.propeller',
      failure.propeller,
      `a state that aircraft.propellerSinkFactor has a figure for (it has none for this one)`,
    );
}

/** A recorded failure moment. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkFlightStart(start: FlightStart): void {
  within('start.alongFt', start.alongFt, -100_000, 100_000, 'ft');
  within('start.acrossFt', start.acrossFt, -100_000, 100_000, 'ft');
  within('start.heightFt', start.heightFt, 0, 10_000, 'ft above the runway');
  within('start.ktas', start.ktas, 20, 300, 'kt');
  within('start.headingTrueDeg', start.headingTrueDeg, 0, 360, '°');
  within('start.verticalSpeedFpm', start.verticalSpeedFpm, -6_000, 6_000, 'ft/min');
  if (Math.abs(start.verticalSpeedFpm) > 90 * start.ktas)
    refuse(
      'start.verticalSpeedFpm',
      start.verticalSpeedFpm,
      `at most ${90 * start.ktas} ft/min either way at ${start.ktas} kt`,
    );
  within('start.bankDeg', start.bankDeg, -80, 80, '°');
  if (start.loadFactor !== undefined) within('start.loadFactor', start.loadFactor, -2, 6, '');
  if (start.powerFraction !== undefined) within('start.powerFraction', start.powerFraction, 0, 1, '');
}

/** Options of a flight. @throws {RangeError} as {@link checkFlyRequest}. */
export function checkOptions(options: {
  readonly trackEveryS?: number | undefined;
  readonly aimFt?: number | undefined;
  readonly stepS?: number | undefined;
}): void {
  if (options.trackEveryS !== undefined) within('trackEveryS', options.trackEveryS, 0.02, 10, 's');
  if (options.aimFt !== undefined) within('aimFt', options.aimFt, -100_000, 100_000, 'ft');
  if (options.stepS !== undefined) within('stepS', options.stepS, 0.005, 0.2, 's');
}

function within(field: string, value: unknown, low: number, high: number, unit: string): void {
  if (!(typeof value === 'number' && value >= low && value <= high))
    refuse(field, value, `${low} to ${high}${unit === '' ? '' : unit === '°' ? '°' : ` ${unit}`}`);
}

function oneOf(field: string, value: unknown, allowed: readonly string[]): void {
  if (!allowed.includes(value as string)) refuse(field, value, `one of ${allowed.join(', ')}`);
}

function refuse(field: string, value: unknown, allowed: string): never {
  const shown = typeof value === 'string' ? `"${value}"` : String(value);
  throw new RangeError(`${field} must be ${allowed}, got ${shown}`);
}
