// An invented shop's first day: the machine and the wheel that it describes in an empty book.

/** What somebody in front of the machine answers, bare numbers in inches. */
export const machine = {
  name: "corner bench",
  taps: [
    ["machine.coolant", "dry"],
    ["spindle.nut_thread", "left"],
    ["work_holding.fixture", "air spindle"],
    ["rest.stands_on", "wheel head"],
  ],
  ticks: [
    ["machine.extraction", "yes"],
    ["spindle.rotation", "clockwise"],
    ["spindle.rotation", "counterclockwise"],
  ],
  typed: Object.entries({
    "machine.name": "corner bench",
    "spindle.nut_end": "right",
    "spindle.speed[0].rpm": "3600",
    "spindle.speed[0].belt": "large pulley",
    "spindle.speed[1].rpm": "5400",
    "spindle.speed[1].belt": "small pulley",
    "work_holding.psi": "60",
    "work_holding.shank_min": "1/8",
    "work_holding.shank_max": "1-1/4",
    "work_holding.squaring": "ground edge along the right side of the base",
    "rest.finger[0].name": "wide",
    "rest.finger[0].width": "3/16",
    "rest.finger[1].name": "narrow",
    "rest.finger[1].width": ".040",
  }),
  /** By the role of the axis: what its dial or circle is. */
  axes: {
    "wheel head height": { name: "column wheel", graduation: ".001", per_turn: ".1" },
    "head swivel": {
      name: "head circle",
      graduation: "1",
      vernier: "5 min",
      "range[0]": "0",
      "range[1]": "180",
    },
    "cross feed": { name: "saddle handwheel", graduation: ".0005", per_turn: ".1" },
    "table travel": { name: "table", graduation: "1/16" },
    "table swivel": { name: "table top", graduation: "1", vernier: "10 min" },
    "relief dial": {
      name: "relief dial",
      graduation: "1",
      vernier: "15 min",
      "range[0]": "0",
      "range[1]": "40",
    },
  },
};

/** A straight cup, read off the wheel itself. */
export const wheel = {
  number: "W-1",
  taps: [
    ["wheel.shape", "type 6, straight cup"],
    ["wheel.abrasive", "aluminium oxide"],
    ["wheel.bond", "vitrified"],
  ],
  typed: Object.entries({
    "wheel.number": "W-1",
    "wheel.marked_rpm": "5730",
    "wheel.grit": "60",
    "wheel.grade": "K",
    "wheel.diameter": "3-1/2",
    "wheel.face_width": "1/16",
    "wheel.rim_width": "3/8",
    "wheel.bore": "1-1/4",
    "wheel.depth": "1-1/2",
  }),
};
