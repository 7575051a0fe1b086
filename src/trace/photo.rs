//! A camera that sees the plane of the paper, with one coefficient for the curvature of its lens.

use kurbo::{Point, Vec2};
use nalgebra::{DMatrix, DVector, Matrix3, Rotation3, Vector3};

/// Something seen in the picture whose place on the paper is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sight {
    /// It lies on the line through `through` with the unit `normal`, mm.
    OnLine {
        /// Pixels.
        seen: Point,
        /// A point of the line, mm.
        through: Point,
        /// Its unit normal.
        normal: Vec2,
    },
    /// It lies at a point, mm.
    At {
        /// Pixels.
        seen: Point,
        /// Where it lies on the paper, mm.
        place: Point,
    },
}

/// Unknowns of a photograph: how the camera was turned (3), where it was (3), how far it sees (the
/// logarithm of its focal length), how its lens curves, and where the lens looks beside the middle of the
/// picture (2).
const UNKNOWNS: usize = 10;

/// Which of them is the focal length, which the curvature of the lens, and which its middle.
const FOCAL: usize = 6;
const BEND: usize = 7;
const MIDDLE: [usize; 2] = [8, 9];

/// How far the middle of the lens usually lies beside that of the picture, as a share of the half diagonal
/// (common practice: one part in a hundred). A picture from which a side was cut has it elsewhere.
const USUAL_MIDDLE: f64 = 0.01;

/// The focal length as a share of the half diagonal before anything was measured, and how far its logarithm
/// usually is from that: from 0.9 (wide angle of a telephone) to 2.5 (portrait) for most cameras.
const USUAL_FOCAL: (f64, f64) = (1.5, 0.5);

/// How far the logarithm of a focal length may be off that the file says: pictures are cropped a little when
/// they are straightened in the camera.
const SAID_FOCAL: f64 = 0.06;

/// How strongly lenses curve before anything was measured: half of them bend the corner of the picture by
/// less than 2 % of its half diagonal (common practice for telephones and small cameras).
const USUAL_BEND: f64 = 0.03;

/// Edges are seen no better than this, mm, whatever the fit says: what lies on the paper is thick, and its
/// size has a tolerance.
const SEEN: f64 = 0.02;

/// What is known before counts against sights as if these were off by this, mm, in the first fit; then by
/// what is left over, and at least by the second figure.
const FIRST_OFF: [f64; 2] = [0.1, 0.005];

/// Neighbouring places of one edge err together: an uncertainty from single places is this many times too
/// small (common practice: nine neighbours to one independent place).
const ALIKE: f64 = 3.0;

/// A plane seen by a lens.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    centre: Point,
    half: f64,
    /// The camera's axes, which the first three unknowns turn further.
    turned: Matrix3<f64>,
    unknowns: [f64; UNKNOWNS],
    /// From the picture without the lens to the paper, for these unknowns.
    plane: Matrix3<f64>,
    /// What is usual of focal lengths, and how much it counts.
    usual_focal: (f64, f64),
    off: f64,
    covariance: DMatrix<f64>,
    /// The root of the mean square of what is left over, mm.
    pub left_over: f64,
}

impl Photo {
    /// The projection of a picture of `size` pixels that fits all `sights` best, least squares on the
    /// paper, from the corners of a quadrilateral that are known roughly: `(pixels, mm)`. The camera has
    /// square pixels and looks through the middle of its picture, or nearly (Zhang 2000); the lens is radial about it
    /// (Brown 1971, first coefficient): what lies at the share ρ of the half diagonal is seen as if at
    /// ρ (1 + k ρ²). `focal` is the focal length as a share of the half diagonal, if the file says it.
    ///
    /// `None` if the corners lie on a line or the fit does not come to rest.
    pub fn fitted(
        size: [usize; 2],
        focal: Option<f64>,
        corners: &[(Point, Point); 4],
        sights: &[Sight],
    ) -> Option<Photo> {
        let [width, height] = size.map(|s| s as f64);
        let mut photo = Photo {
            centre: Point::new(0.5 * width, 0.5 * height),
            half: 0.5 * width.hypot(height),
            turned: Matrix3::identity(),
            unknowns: [0.0; UNKNOWNS],
            plane: Matrix3::identity(),
            usual_focal: focal.map_or(USUAL_FOCAL, |focal| (focal, SAID_FOCAL)),
            off: FIRST_OFF[0],
            covariance: DMatrix::zeros(UNKNOWNS, UNKNOWNS),
            left_over: 0.0,
        };
        photo.place(&through_corners(
            &corners.map(|(seen, mm)| (photo.shared(seen), mm)),
        )?)?;
        photo.settle(sights)?;
        photo.off = photo.left_over.clamp(FIRST_OFF[1], FIRST_OFF[0]);
        photo.settle(sights)?;
        photo.judged(sights)
    }

    /// Places the camera so that it sees the plane roughly as `plane` says, with the usual focal length.
    fn place(&mut self, plane: &Matrix3<f64>) -> Option<()> {
        let (focal, _) = self.usual_focal;
        let mut seen = plane.try_inverse()?;
        for column in 0..3 {
            seen[(0, column)] /= focal;
            seen[(1, column)] /= focal;
        }
        let [across, down, middle] = [0, 1, 2].map(|i| seen.column(i).into_owned());
        let scale = 2.0 / (across.norm() + down.norm()) * middle.z.signum();
        let first = (across * scale).normalize();
        let third = first.cross(&(down * scale)).normalize();
        self.turned = Matrix3::from_columns(&[first, third.cross(&first), third]);
        let middle = middle * scale;
        let sides = [middle.x / middle.z, middle.y / middle.z, middle.z.ln()];
        self.unknowns = [0.0; UNKNOWNS];
        self.unknowns[3..6].copy_from_slice(&sides);
        self.unknowns[FOCAL] = focal.ln();
        self.plane = self.plane(&self.unknowns);
        let sound = self.plane.iter().all(|v| v.is_finite());
        sound.then_some(())
    }

    /// Moves the unknowns to the least sum of squares (Levenberg 1944, Marquardt 1963).
    fn settle(&mut self, sights: &[Sight]) -> Option<()> {
        let mut damping = 1e-3;
        let mut worst = self.sum(&self.unknowns, sights);
        for _ in 0..60 {
            let (normal, right) = self.normal(sights);
            let mut damped = normal.clone();
            for i in 0..UNKNOWNS {
                damped[(i, i)] += damping * normal[(i, i)];
            }
            let step = damped.lu().solve(&right)?;
            let mut moved = self.unknowns;
            moved
                .iter_mut()
                .zip(step.iter())
                .for_each(|(value, step)| *value += step);
            let sum = self.sum(&moved, sights);
            if sum.is_finite() && sum <= worst {
                let still = worst - sum < 1e-10 * worst;
                self.unknowns = moved;
                worst = sum;
                damping = (damping / 10.0).max(1e-12);
                if still {
                    break;
                }
            } else {
                damping *= 10.0;
            }
        }
        self.plane = self.plane(&self.unknowns);
        let off = |sight: &Sight| self.off(&self.unknowns, &self.plane, sight);
        let all: Vec<f64> = sights.iter().flat_map(off).collect();
        let squares: f64 = all.iter().map(|v| v * v).sum();
        self.left_over = (squares / all.len().max(1) as f64).sqrt();
        self.left_over.is_finite().then_some(())
    }

    /// See [`super::projection::Projection::uncertainty`].
    pub(super) fn uncertainty(&self, a: Point, b: Point) -> f64 {
        let distance = |unknowns: &[f64; UNKNOWNS]| {
            let plane = self.plane(unknowns);
            let place = |pixel: Point| self.to_mm(&plane, unknowns, pixel);
            place(a).distance(place(b))
        };
        let slope = DVector::from_iterator(
            UNKNOWNS,
            (0..UNKNOWNS).map(|i| {
                let [less, more] = [-1e-6, 1e-6].map(|step| {
                    let mut moved = self.unknowns;
                    moved[i] += step;
                    distance(&moved)
                });
                (more - less) / 2e-6
            }),
        );
        (slope.transpose() * &self.covariance * &slope)[(0, 0)]
            .max(0.0)
            .sqrt()
    }

    /// Where a pixel lies on the paper, mm.
    pub(super) fn place_of(&self, pixel: Point) -> Point {
        self.to_mm(&self.plane, &self.unknowns, pixel)
    }

    /// Where the lens looks, pixels.
    pub(super) fn centre(&self) -> Point {
        let [x, y] = MIDDLE.map(|i| self.unknowns[i] * self.half);
        self.centre + Vec2::new(x, y)
    }

    /// How far the lens moves the corner of the picture, as a share of its half diagonal.
    pub fn bend(&self) -> f64 {
        self.unknowns[BEND]
    }

    fn judged(mut self, sights: &[Sight]) -> Option<Photo> {
        let (normal, _) = self.normal(sights);
        let seen = self.left_over.max(SEEN) * ALIKE;
        self.covariance = normal.try_inverse()? * (seen * seen);
        let sound = self.covariance.iter().all(|v| v.is_finite());
        sound.then_some(self)
    }

    fn shared(&self, pixel: Point) -> Point {
        ((pixel - self.centre) / self.half).to_point()
    }

    /// From the picture without the lens to the paper.
    fn plane(&self, unknowns: &[f64; UNKNOWNS]) -> Matrix3<f64> {
        let [a, b, c, across, down, far, focal, ..] = *unknowns;
        let turned = Rotation3::from_scaled_axis(Vector3::new(a, b, c)).into_inner() * self.turned;
        let middle = Vector3::new(across, down, 1.0) * far.exp();
        let focal = focal.exp();
        let (first, second) = (turned.column(0).into_owned(), turned.column(1).into_owned());
        let mut seen = Matrix3::from_columns(&[first, second, middle]);
        for column in 0..3 {
            seen[(0, column)] *= focal;
            seen[(1, column)] *= focal;
        }
        let nowhere = || Matrix3::from_element(f64::NAN);
        seen.try_inverse().unwrap_or_else(nowhere)
    }

    fn to_mm(&self, plane: &Matrix3<f64>, unknowns: &[f64; UNKNOWNS], pixel: Point) -> Point {
        let middle = Vec2::new(unknowns[MIDDLE[0]], unknowns[MIDDLE[1]]);
        let seen = self.shared(pixel).to_vec2() - middle;
        let Vec2 { x, y } = seen * (1.0 + unknowns[BEND] * seen.hypot2());
        let place = plane * Vector3::new(x, y, 1.0);
        Point::new(place.x / place.z, place.y / place.z)
    }

    fn off(&self, unknowns: &[f64; UNKNOWNS], plane: &Matrix3<f64>, sight: &Sight) -> Vec<f64> {
        let place_of = |seen: Point| self.to_mm(plane, unknowns, seen);
        match *sight {
            Sight::OnLine {
                seen,
                through,
                normal,
            } => vec![(place_of(seen) - through).dot(normal)],
            Sight::At { seen, place } => {
                let off = place_of(seen) - place;
                vec![off.x, off.y]
            }
        }
    }

    /// How much what is known of cameras before counts: which unknown, its usual value, mm per unit.
    fn usual(&self) -> [(usize, f64, f64); 4] {
        let (focal, spread) = self.usual_focal;
        [
            (FOCAL, focal.ln(), self.off / spread),
            (BEND, 0.0, self.off / USUAL_BEND),
            (MIDDLE[0], 0.0, self.off / USUAL_MIDDLE),
            (MIDDLE[1], 0.0, self.off / USUAL_MIDDLE),
        ]
    }

    /// The sum of squares, mm²; what is known of cameras before counts as further sights.
    fn sum(&self, unknowns: &[f64; UNKNOWNS], sights: &[Sight]) -> f64 {
        let plane = self.plane(unknowns);
        let all = sights.iter().flat_map(|s| self.off(unknowns, &plane, s));
        let usual = self
            .usual()
            .map(|(i, value, weight)| weight * (unknowns[i] - value));
        all.chain(usual).map(|v| v * v).sum()
    }

    fn normal(&self, sights: &[Sight]) -> (DMatrix<f64>, DVector<f64>) {
        const STEP: f64 = 1e-6;
        let mut normal = DMatrix::zeros(UNKNOWNS, UNKNOWNS);
        let mut right = DVector::zeros(UNKNOWNS);
        let here = self.plane(&self.unknowns);
        let moved: Vec<([f64; UNKNOWNS], Matrix3<f64>)> = (0..UNKNOWNS)
            .map(|i| {
                let mut moved = self.unknowns;
                moved[i] += STEP;
                (moved, self.plane(&moved))
            })
            .collect();
        for sight in sights {
            let off = self.off(&self.unknowns, &here, sight);
            let aside = |(unknowns, plane): &([f64; UNKNOWNS], Matrix3<f64>)| {
                self.off(unknowns, plane, sight)
            };
            let columns: Vec<Vec<f64>> = moved.iter().map(aside).collect();
            for (row, value) in off.iter().enumerate() {
                let slope = |i: usize| (columns[i][row] - value) / STEP;
                let slopes = DVector::from_iterator(UNKNOWNS, (0..UNKNOWNS).map(slope));
                normal += &slopes * slopes.transpose();
                right -= slopes * *value;
            }
        }
        for (i, value, weight) in self.usual() {
            normal[(i, i)] += weight * weight;
            right[i] -= weight * weight * (self.unknowns[i] - value);
        }
        (normal, right)
    }
}

/// The projection that takes four points to four others, its last coefficient 1 (the direct linear
/// transformation: Hartley & Zisserman 2004, 4.1).
fn through_corners(corners: &[(Point, Point); 4]) -> Option<Matrix3<f64>> {
    let mut rows = DMatrix::<f64>::zeros(8, 8);
    let mut right = DVector::<f64>::zeros(8);
    for (i, (Point { x, y }, mm)) in corners.iter().enumerate() {
        let across = [*x, *y, 1.0, 0.0, 0.0, 0.0, -mm.x * x, -mm.x * y];
        let down = [0.0, 0.0, 0.0, *x, *y, 1.0, -mm.y * x, -mm.y * y];
        for column in 0..8 {
            rows[(2 * i, column)] = across[column];
            rows[(2 * i + 1, column)] = down[column];
        }
        right[2 * i] = mm.x;
        right[2 * i + 1] = mm.y;
    }
    let solved = rows.lu().solve(&right)?;
    let [a, b, c, d, e, f, g, h]: [f64; 8] = solved.as_slice().try_into().ok()?;
    let whole = Matrix3::new(a, b, c, d, e, f, g, h, 1.0);
    // no corner may lie on the horizon or behind it
    let before = |(seen, _): &(Point, Point)| (whole * Vector3::new(seen.x, seen.y, 1.0)).z > 0.05;
    (whole.iter().all(|v| v.is_finite()) && corners.iter().all(before)).then_some(whole)
}
