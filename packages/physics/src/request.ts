// What a caller hands to the physics in handbook units: the shapes of a request, checked nowhere else but at the door.

/** Propeller after the failure. `coarse` covers feathered or coarse pitch; windmilling in fine pitch drags most. */
export type PropellerState = 'coarse' | 'stopped' | 'windmillingFine';
/** Side of the first turn; `best` lets the search choose; `ahead` lands ahead, wings level. */
export type TurnChoice = 'best' | 'left' | 'right' | 'ahead';
export type Surface = 'paved' | 'dry-grass' | 'wet-grass' | 'wet-paved';

/** Handbook numbers of one aeroplane. Speeds are calibrated, in knots, at `referenceMassKg`. */
export interface AircraftNumbers {
  readonly name: string;
  /** Mass flown (kg). */
  readonly massKg: number;
  /** Mass the handbook speeds belong to (kg); the mass flown when absent. */
  readonly referenceMassKg?: number | undefined;
  readonly wingAreaM2: number;
  readonly wingSpanM: number;
  readonly stallCleanKcas: number;
  readonly stallLandingKcas: number;
  readonly bestGlideKcas: number;
  readonly bestGlideRatio: number;
  /** Propeller state the handbook glide figure belongs to. */
  readonly bestGlidePropeller: PropellerState;
  /** Sink at best glide in each propeller state, relative to each other (the stated one is usually 1). */
  readonly propellerSinkFactor: { readonly [state in PropellerState]?: number | undefined };
  /** One or two climb points at sea level, ISA, full power. */
  readonly climb: readonly { readonly kcas: number; readonly rateFpm: number }[];
  /** Added drag coefficient, gear down against gear up. 0: fixed gear. */
  readonly gearDragCoefficient: number;
  /** Added drag coefficient with landing flap. */
  readonly flapDragCoefficient: number;
  /** Brake release to 50 ft (ft), as `takeoffFigure` says. */
  readonly takeoffTo50FtFt: number;
  /**
   * `today`: as flown today, everything counted. `handbook`: in still air, at sea level, 15 °C, from level dry paving,
   * to be factored for the day. `today` when absent.
   */
  readonly takeoffFigure?: 'today' | 'handbook' | undefined;
  /** Handbook landing roll, still air, paved, sea level (ft). */
  readonly landingRollFt: number;
}

/** One runway in the take-off direction and the airfield around it. */
export interface RunwayNumbers {
  readonly name: string;
  readonly lengthFt: number;
  readonly widthFt: number;
  readonly headingTrueDeg: number;
  readonly elevationFt: number;
  readonly surface: Surface;
  /** Mean slope, uphill in the take-off direction positive (%); level when absent. */
  readonly slopePercent?: number | undefined;
  /** Brake release so far from the beginning of the runway (ft); 0 when absent. The ground behind counts for a return. */
  readonly takeoffStartFt?: number | undefined;
  /** Ground inside the aerodrome boundary: beyond each runway end, and to each side of the centreline (ft). */
  readonly airfield: { readonly beyondEndFt: number; readonly besideFt: number };
  /** Other runways of the airfield that a return may go to, in either direction; none when absent. */
  readonly others?: readonly OtherRunway[] | undefined;
}

/** Another runway of the airfield, at the elevation of the departure runway. */
export interface OtherRunway {
  readonly name: string;
  readonly lengthFt: number;
  readonly widthFt: number;
  readonly headingTrueDeg: number;
  readonly surface: Surface;
  /** Mean slope, uphill along `headingTrueDeg` positive (%); level when absent. */
  readonly slopePercent?: number | undefined;
  /** Where it begins, seen along `headingTrueDeg`: from brake release along the departure runway, right positive (ft). */
  readonly startAlongFt: number;
  readonly startAcrossFt: number;
}

/** Today's air. Winds count from the runway surface upwards; none given means calm. */
export interface WeatherNumbers {
  readonly temperatureC: number;
  readonly qnhHpa: number;
  readonly winds: readonly { readonly heightFt: number; readonly fromTrueDeg: number; readonly speedKt: number }[];
}

/** How the pilot flies it. */
export interface TechniqueNumbers {
  readonly climbKcas: number;
  readonly delayS: number;
  readonly targetKcas: number;
  /** Speed on the straight leg (kt CAS); `targetKcas` when absent. */
  readonly straightKcas?: number | undefined;
  /** Speed from the alignment turn on (kt CAS); `targetKcas` when absent. */
  readonly alignKcas?: number | undefined;
  /** Bank the alignment turn is planned with (deg), at most `bankDeg`; 0.6 of that, at most 25, when absent. */
  readonly alignBankDeg?: number | undefined;
  /** Time constant with which the alignment ends on the centreline (s); 2.5 when absent. Longer: softer, from farther off. */
  readonly alignTimeS?: number | undefined;
  /**
   * True: from the turn on the speed goes from `straightKcas` to `alignKcas` in proportion to the height lost down to
   * the flare. False when absent: it changes when the alignment begins.
   */
  readonly speedEased?: boolean | undefined;
  /** Speed at the beginning of the turn (kt CAS), from which it goes over to `targetKcas`; that when absent. */
  readonly turnEntryKcas?: number | undefined;
  readonly bankDeg: number;
  /**
   * True: in the first turn the bank stays where the stall margin leaves no level turn, only the lift is held to the
   * margin and the nose drops. False when absent: the bank yields.
   */
  readonly bankKept?: boolean | undefined;
  readonly turn: TurnChoice;
  readonly stallMargin: number;
  readonly rollRateDegS: number;
  readonly minimumLoadFactor: number;
  /** Gear goes down through this height (ft); null: not at all. */
  readonly gearDownHeightFt: number | null;
  /** Landing flap goes down through this height on final (ft); null: no flap. */
  readonly flapDownHeightFt: number | null;
  /** Drag coefficient of the fullest sideslip used to lose excess height on the way in; none when absent. */
  readonly sideslipDragCoefficient?: number | undefined;
}

export interface FailureNumbers {
  readonly heightFt: number;
  /** Power left, 0 (total) to below 1. */
  readonly powerFraction: number;
  readonly propeller: PropellerState;
  /** Later power: at each time after the failure (s, rising) the engine goes for another share of full power. */
  readonly powerChanges?: readonly { readonly atS: number; readonly powerFraction: number }[] | undefined;
}

/** One modelled attempt. */
export interface FlyRequest {
  readonly aircraft: AircraftNumbers;
  readonly runway: RunwayNumbers;
  readonly weather: WeatherNumbers;
  readonly technique: TechniqueNumbers;
  readonly failure: FailureNumbers;
}

export type Outcome = 'stopped-on-runway' | 'overrun' | 'on-airfield' | 'off-airfield' | 'wing-low-contact' | 'stall';

/** What `fly` answers. Distances along are from brake release in the take-off direction, across right positive. */
export interface FlyResult {
  readonly outcome: Outcome;
  /** The side flown. */
  readonly turn: 'left' | 'right' | 'ahead';
  readonly failure: {
    readonly distanceFt: number;
    readonly heightFt: number;
    readonly kcas: number;
    readonly ktas: number;
  };
  /** Climbed on after the failure (ft). */
  readonly heightGainedFt: number;
  /** True airspeed lost during the delay (kt). */
  readonly speedLostKt: number;
  /** From failure height to 180° of turn (ft); null when 180° was never turned. */
  readonly heightLostTo180Ft: number | null;
  /** Positive: descending (ft/min). */
  readonly largestSinkFpm: number;
  /** Least V/(Vs1·√n) from first action to flare. */
  readonly leastStallMargin: number;
  /** Heading turned through in the first turn, positive whichever side (deg). */
  readonly turnedDeg: number;
  /** Height at which the wings were level for good before the flare (ft above runway). */
  readonly wingsLevelHeightFt: number;
  readonly touchdown: {
    readonly alongFt: number;
    readonly acrossFt: number;
    readonly sinkFpm: number;
    readonly bankDeg: number;
    readonly headingErrorDeg: number;
    readonly groundspeedKt: number;
  };
  /** Runway left when stopped (ft), negative: overrun; null when the contact was not on the runway. */
  readonly stopMarginFt: number | null;
  /** Failure to contact (s). */
  readonly timeToGroundS: number;
  /**
   * Point on the centreline that the straight leg was flown to (ft); null: landed ahead. Along from brake release; on
   * another runway along from the end opposite to its landing threshold, against the landing direction positive.
   */
  readonly aimFt: number | null;
  /** Runway returned to, and the direction of landing; null: landed ahead. */
  readonly returnedTo: { readonly name: string; readonly landingHeadingTrueDeg: number } | null;
}

/**
 * The moment of the failure as it really was, instead of a modelled climb. Runway frame: along from brake release in
 * the take-off direction, across right positive, height above the runway.
 */
export interface FlightStart {
  readonly alongFt: number;
  readonly acrossFt: number;
  readonly heightFt: number;
  readonly ktas: number;
  /** Where the nose points through the air (deg true). */
  readonly headingTrueDeg: number;
  /** Climb positive (ft/min). */
  readonly verticalSpeedFpm: number;
  /** Right wing down positive (deg). */
  readonly bankDeg: number;
  /** Load factor (lift over weight) at that moment; that of an unaccelerated path when absent. */
  readonly loadFactor?: number | undefined;
  /** Share of full power just before the failure; 1 when absent. */
  readonly powerFraction?: number | undefined;
  /** Gear already down; false when absent. */
  readonly gearDown?: boolean | undefined;
  /** Landing flap already down; false when absent. */
  readonly flapDown?: boolean | undefined;
}
