//! The gearing of a car as its file describes it, on the rear tires as they stand.

use super::{Drive, Gearing, RollingTire};
use crate::bench::Refusal;
use crate::car::OtherDrive;
use crate::checks::at_stance::AtStance;
use crate::checks::rolling::rear_tire;
use crate::tire::{Measured, dimensions, read_marking};
use crate::wording::shown;

impl Gearing {
    /// `None` where the car's ratios are not described.
    ///
    /// # Errors
    /// No rear tires, or a marking that cannot be read.
    pub fn of_car(car: &AtStance<'_>, speeds_kmh: Vec<f64>) -> Option<Result<Self, Refusal>> {
        let drive = car.vehicle.drive.as_ref()?;
        let of = || {
            let Some(tire) = rear_tire(car) else {
                let message =
                    "The car has no rear tires whose marking can be read, so nothing says how far a turn goes.";
                return Err(Refusal::new(message, "Enter the tires with the car\u{2019}s measures."));
            };
            let gears: Vec<(String, f64)> = drive.gears.iter().map(|gear| (gear.gear.clone(), gear.ratio)).collect();
            let own = Drive {
                axle_ratio: drive.axle_ratio,
                gears: if gears.is_empty() { vec![("top".to_owned(), drive.top_gear_ratio)] } else { gears },
                tire: RollingTire::Tire(Box::new(tire)),
            };
            let beside = drive.beside.iter().map(|other| beside(other, &own)).collect::<Result<_, _>>()?;
            Ok(Self { drive: own, speeds_kmh, beside })
        };
        Some(of())
    }
}

fn beside(other: &OtherDrive, own: &Drive) -> Result<(String, Drive), Refusal> {
    let mut drive = own.clone();
    if let Some(ratio) = other.axle_ratio {
        drive.axle_ratio = ratio;
    }
    if let Some(marking) = &other.tire {
        let read = read_marking(marking)
            .map_err(|e| Refusal::new(format!("drive.beside: {}", e.message()), e.hint() + "."))?;
        drive.tire = RollingTire::Tire(Box::new(dimensions(&read, &Measured::default())));
    }
    let axle = other.axle_ratio.map(|ratio| format!("{ratio} axle"));
    let parts: Vec<String> = axle.into_iter().chain(other.tire.as_deref().map(shown)).collect();
    Ok((other.label.clone().unwrap_or_else(|| parts.join(", ")), drive))
}
