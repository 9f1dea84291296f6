//! Least squares, and the quantiles for its bands, against certified results.
//!
//! Source: NIST, Statistical Reference Datasets (StRD), linear and nonlinear regression, public
//! domain; the certified values were worked out there with up to 500 digits. Grade A. Estimates,
//! their standard deviations and the residual standard deviation are compared by the digits that
//! agree: −log10 of the relative difference, or of the value itself where nought is certified.
//!
//! Required are 7 digits at the lower level of difficulty and 6 at the average; what the higher
//! level must give is told set by set, with the reason where it is less than 7.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a check that cannot read its data must stop, and it tells the digits it found"
)]

use std::fs;

use geometry::fit::nonlinear::NonlinearProblem;
use geometry::fit::quantile::{
    chi_square_quantile, chi_square_tail, normal_quantile, normal_tail, student_quantile,
    student_tail,
};
use geometry::fit::{LinearFit, LinearProblem, Noise};

/// One data set with what is certified of it.
struct Set {
    difficulty: String,
    model: Vec<String>,
    starts: Vec<Vec<f64>>,
    certified: Vec<[f64; 2]>,
    residual_sd: f64,
    /// The response first, then the predictors.
    readings: Vec<Vec<f64>>,
}

impl Set {
    fn read(name: &str) -> Self {
        let path = format!("{}/data/nist/{name}.txt", env!("CARGO_MANIFEST_DIR"));
        let text = fs::read_to_string(&path).unwrap();
        let of = |key: &str| -> Vec<&str> {
            let lines = text.lines().filter_map(|line| line.split_once(' '));
            lines.filter(|(head, _)| *head == key).map(|(_, rest)| rest).collect()
        };
        let numbers = |key: &str| of(key).into_iter().map(numbers).collect::<Vec<_>>();
        Self {
            difficulty: of("difficulty")[0].to_owned(),
            model: of("model")[0].split(' ').map(str::to_owned).collect(),
            starts: numbers("start"),
            certified: numbers("certified").into_iter().map(|pair| [pair[0], pair[1]]).collect(),
            residual_sd: numbers("residual_sd")[0][0],
            readings: numbers("reading"),
        }
    }

    fn responses(&self) -> Vec<f64> {
        self.readings.iter().map(|reading| reading[0]).collect()
    }

    fn noise(&self) -> Noise {
        Noise::unknown(self.readings.len())
    }

    /// The rows of a linear set.
    fn rows(&self) -> Vec<Vec<f64>> {
        let first = if self.model[2] == "constant" { 0 } else { 1 };
        let degree: i32 = self.model[1].parse().unwrap();
        let row = |reading: &Vec<f64>| match self.model[0].as_str() {
            "poly" => (first..=degree).map(|power| reading[1].powi(power)).collect(),
            _ => [&[1.0], &reading[1..]].concat(),
        };
        self.readings.iter().map(row).collect()
    }

    /// The least digits that agree: in the estimates, in their standard deviations, and in the
    /// residual standard deviation.
    fn digits(&self, fit: &LinearFit) -> [f64; 3] {
        let least = |digits: Vec<f64>| digits.into_iter().fold(f64::INFINITY, f64::min);
        let pairs = || self.certified.iter().enumerate();
        assert_eq!(fit.parameters().len(), self.certified.len());
        [
            least(pairs().map(|(at, pair)| digits(fit.parameters()[at], pair[0])).collect()),
            least(pairs().map(|(at, pair)| digits(fit.deviation(at).unwrap(), pair[1])).collect()),
            digits(fit.scale().unwrap(), self.residual_sd),
        ]
    }
}

fn numbers(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|word| word.parse().unwrap()).collect()
}

fn digits(found: f64, certified: f64) -> f64 {
    let size = if certified == 0.0 { 1.0 } else { certified.abs() };
    // Fifteen digits are certified at most.
    (-((found - certified).abs() / size).log10()).min(15.0)
}

/// What a data set must give: the digits of estimates, standard deviations and residual standard
/// deviation, and why, where its level of difficulty does not say it.
struct Required {
    name: &'static str,
    digits: [f64; 3],
    because: &'static str,
}

const fn lower(name: &'static str) -> Required {
    Required { name, digits: [7.0; 3], because: "" }
}

const fn average(name: &'static str) -> Required {
    Required { name, digits: [6.0; 3], because: "" }
}

const fn higher(name: &'static str, digits: [f64; 3], because: &'static str) -> Required {
    Required { name, digits, because }
}

const LINEAR: [Required; 10] = [
    lower("Norris"),
    lower("Pontius"),
    average("NoInt1"),
    higher(
        "Longley",
        [10.0, 10.0, 10.0],
        "columns nearly alike: scaled to length one, their singular values span 4e4",
    ),
    higher("Wampler1", [8.0, 8.0, 8.0], "an exact fit"),
    higher("Wampler2", [8.0, 8.0, 8.0], "an exact fit"),
    higher("Wampler3", [8.0, 8.0, 8.0], "noise 1e3 times the estimates"),
    higher("Wampler4", [7.0, 8.0, 8.0], "noise 1e5 times the estimates"),
    higher("Wampler5", [6.0, 8.0, 8.0], "noise 1e7 times the estimates: as many digits cancel"),
    higher(
        "Filip",
        [6.5, 6.5, 7.0],
        "the tenth powers, once rounded to double precision, allow 7.9 digits: the scaled columns' \
         singular values span 5e9",
    ),
];

fn check(required: &Required, set: &Set, found: [f64; 3]) {
    let Required { name, digits, because } = required;
    assert_eq!(set.difficulty == "higher", !because.is_empty(), "{name}: a higher level needs why");
    println!("{name} ({}): digits {found:.1?}", set.difficulty);
    let is_good = found.iter().zip(digits).all(|(found, required)| found >= required);
    assert!(is_good, "{name}: {found:.1?} of {digits:?} digits ({because})");
}

#[test]
fn linear_sets_agree_with_the_certified_results() {
    for required in &LINEAR {
        let set = Set::read(required.name);
        let problem = LinearProblem::new(&set.rows(), &set.responses(), set.noise()).unwrap();
        let fit = problem.fit().unwrap();
        assert_eq!(fit.rank(), set.certified.len(), "{}", required.name);
        check(required, &set, set.digits(&fit));
    }
}

/// The nonlinear models, by the data sets that they belong to.
fn model(name: &str, b: &[f64], x: f64) -> f64 {
    match name {
        "Misra1a" => b[0] * (1.0 - (-b[1] * x).exp()),
        "Chwirut2" => (-b[0] * x).exp() / (b[1] + b[2] * x),
        "Lanczos3" => (0..3).map(|i| b[2 * i] * (-b[2 * i + 1] * x).exp()).sum(),
        "DanWood" => b[0] * x.powf(b[1]),
        "MGH17" => b[0] + b[1] * (-x * b[3]).exp() + b[2] * (-x * b[4]).exp(),
        "MGH09" => b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]),
        "Thurber" => {
            let above = b[0] + x * (b[1] + x * (b[2] + x * b[3]));
            above / (1.0 + x * (b[4] + x * (b[5] + x * b[6])))
        }
        _ => panic!("no model for {name}"),
    }
}

const NONLINEAR: [Required; 7] = [
    lower("Misra1a"),
    lower("Chwirut2"),
    lower("Lanczos3"),
    lower("DanWood"),
    average("MGH17"),
    higher("MGH09", [8.0, 8.0, 8.0], "standard deviations as large as the estimates"),
    higher("Thurber", [8.0, 8.0, 8.0], "a ratio of cubics"),
];

#[test]
fn nonlinear_sets_agree_with_the_certified_results_from_either_start() {
    for required in &NONLINEAR {
        let set = Set::read(required.name);
        let foretold = |b: &[f64]| -> Vec<f64> {
            set.readings.iter().map(|reading| model(required.name, b, reading[1])).collect()
        };
        assert_eq!(set.starts.len(), 2, "{}", required.name);
        for start in &set.starts {
            let responses = set.responses();
            let problem = NonlinearProblem::new(foretold, &responses, set.noise(), start).unwrap();
            let found = problem.fit().unwrap();
            assert!(found.offset < 1e-6, "{}: {}", required.name, found.offset);
            check(required, &set, set.digits(&found.fit));
        }
    }
}

/// Source: mpmath 1.4.1, a general library, at 40 digits: incomplete beta and gamma functions,
/// inverted by halving. Grade C. Degrees of freedom, probability, quantile.
const STUDENT: [[f64; 3]; 8] = [
    [1.0, 1e-12, -318_309_886_183.790_67],
    [3.0, 1e-6, -103.299_467_780_419_34],
    [5.5, 0.025, -2.501_858_617_589_240_4],
    [10.0, 0.3, -0.541_528_038_755_015_7],
    [10.0, 0.7, 0.541_528_038_755_015_7],
    [4.0, 0.4999, -0.000_266_666_670_617_284],
    [200.0, 0.001, -3.131_479_814_221_121],
    [10_000.0, 0.025, -1.960_201_239_890_626_3],
];
const CHI_SQUARE: [[f64; 3]; 6] = [
    [1.0, 1e-12, 1.570_796_326_794_896_6e-24],
    [3.0, 0.001, 0.024_297_585_815_692_733],
    [5.5, 0.3, 3.411_398_377_625_080_6],
    [10.0, 0.95, 18.307_038_053_275_147],
    [30.0, 0.999, 59.703_064_304_429_93],
    [200.0, 0.5, 199.333_729_838_630_98],
];
const NORMAL: [[f64; 2]; 3] = [
    [1e-12, -7.034_483_825_301_132],
    [0.025, -1.959_963_984_540_054_2],
    [0.9, 1.281_551_565_544_600_5],
];

#[test]
fn quantiles_agree_with_a_library_of_many_digits() {
    for [degrees, probability, t] in STUDENT {
        let found = student_quantile(degrees, probability).unwrap();
        // The library's beta function keeps fewer digits at many degrees of freedom.
        let least = if degrees > 1000.0 { 7.0 } else { 9.0 };
        assert!(digits(found, t) > least, "t {degrees} {probability}: {found} against {t}");
        let tail = student_tail(degrees, -t).unwrap();
        assert!(digits(tail, probability) > least - 1.0, "{degrees} {t}: {tail}");
    }
    for [degrees, probability, value] in CHI_SQUARE {
        let found = chi_square_quantile(degrees, probability).unwrap();
        assert!(digits(found, value) > 10.0, "{degrees} {probability}: {found} against {value}");
        let tail = chi_square_tail(degrees, value).unwrap();
        assert!(digits(tail, 1.0 - probability) > 10.0, "{degrees} {value}: {tail}");
    }
    for [probability, x] in NORMAL {
        assert!(digits(normal_quantile(probability).unwrap(), x) > 12.0, "{probability}");
        assert!(digits(normal_tail(-x), probability) > 9.0, "{x}");
    }
}

/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7, tables of critical values,
/// sampled rows from memory. Grade B. Half of the last place printed.
#[test]
fn quantiles_agree_with_the_handbooks_tables() {
    for (degrees, t) in [(1.0, 12.706), (5.0, 2.571), (10.0, 2.228), (30.0, 2.042)] {
        assert!((student_quantile(degrees, 0.975).unwrap() - t).abs() <= 0.0005, "{degrees}");
    }
    for (degrees, value) in [(1.0, 3.841), (5.0, 11.070), (10.0, 18.307), (30.0, 43.773)] {
        let found = chi_square_quantile(degrees, 0.95).unwrap();
        assert!((found - value).abs() <= 0.0005, "{degrees}");
    }
}
