export interface AirState {
  /** K. */ readonly temperature: number;
  /** Pa. */ readonly pressure: number;
  /** 0 to 1. */ readonly relativeHumidity: number;
}
export interface AirProperties {
  /** kg/m3. */ readonly density: number;
  /** m/s. */ readonly soundSpeed: number;
  /** Ratio of specific heats. */ readonly heatRatio: number;
  /** Pa s. */ readonly viscosity: number;
  /** m2/s. */ readonly thermalDiffusivity: number;
}
export declare function airProperties(state: AirState): AirProperties;
