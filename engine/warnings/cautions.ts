/** Plain words for whoever builds from these numbers. The report and the page show all of them. */
export interface Caution {
  readonly title: string;
  readonly text: string;
}

export const CAUTIONS: readonly Caution[] = [
  {
    title: 'Low voltage, large current',
    text: 'A core memory runs on a few volts but switches amperes in tens of nanoseconds. A slip with a probe or a screwdriver can burn a trace, a transistor or a finger.',
  },
  {
    title: 'Inductive kick',
    text: 'A line that is turned off quickly answers with a voltage far above the supply. Give every driver its clamp before the first pulse, and keep clear of the line while it runs.',
  },
  {
    title: 'Hot parts',
    text: 'Drivers, series resistors and terminations run hot, most of all when a pulse is stuck on. Limit the current of the supply and let a stuck driver trip it.',
  },
  {
    title: 'Shorted supply',
    text: 'A whisker of solder or a nicked wire can short the supply through a plane. Measure each line to each other line before power, and start with the current limit low.',
  },
  {
    title: 'Magnets',
    text: 'A magnet near the mat changes what its cores hold and how they switch. Keep strong magnets away, also from pacemakers and cards.',
  },
  {
    title: 'Fine wire and solder',
    text: 'Ends of fine wire pierce skin and eyes: wear glasses. Solder with good air, wash your hands, and never pull on a threaded wire, because a core that cracks is lost.',
  },
  {
    title: 'Mains on the supply side',
    text: 'The supply may be connected to the mains. Follow the local electrical code, and let a qualified person do whatever touches the mains.',
  },
  {
    title: 'Predictions are estimates',
    text: 'These numbers come from a model with the uncertainty that is stated beside them. Measure on the bench before you trust data to a memory.',
  },
];
