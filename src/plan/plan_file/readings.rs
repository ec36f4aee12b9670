//! How baths read, as noted.

use super::noted::{Noted, outside};
use super::{Reader, unknown};
use tankday_base::bath::HIGHEST;
use tankday_base::bath::chemistry::{Chemistry, Readings};
use tankday_base::bath::water::boiling_point;
use tankday_base::shop::StationId;
use tankday_base::units::{Temperature, Volume};
use tankday_line::BathReading;
use tankday_scenario::{Code, Finding, NotedReading, Spanned};

impl Noted<'_> {
    pub(super) fn readings(&self, reader: &mut Reader<'_>) -> Vec<BathReading> {
        let mut readings = Vec::new();
        for note in &self.notes.readings {
            let station = reader.names.stations.get(note.tank.value.as_str()).copied();
            let tank = station.and_then(|s| reader.shop.stations[s as usize].tank);
            let (Some(station), Some(tank)) = (station, tank) else {
                let tanks: Vec<&str> = reader.shop.tanks().map(|(_, s, _)| s.name.as_str()).collect();
                reader.add(unknown(note.tank.at, "tank", &note.tank.value, &tanks));
                continue;
            };
            if let Some(why) = outside(reader.shop, note.time.value) {
                reader.add(Finding::new(Code::Time, note.time.at, why).label("no reading is taken then"));
            }
            let reading = BathReading {
                tank: StationId(station),
                at: note.time.value,
                temperature: note.temperature.map(|t| t.value.min(HIGHEST)),
                total_acid: note.total_acid,
                free_acid: note.free_acid,
                iron: note.iron,
                sludge: note.sludge,
            };
            self.can_read_so(reader, note, &reading, (tank.bath.index(), tank.volume));
            readings.push(reading);
        }
        readings.sort_by_key(|r| r.at);
        readings
    }

    /// A bath that reads so can be.
    fn can_read_so(
        &self,
        reader: &mut Reader<'_>,
        note: &NotedReading,
        reading: &BathReading,
        (bath, volume): (usize, Volume),
    ) {
        let recipe = &reader.shop.baths[bath];
        let reads = reading.over(&Readings {
            volume,
            total_acid: recipe.now.total_acid,
            free_acid: recipe.now.free_acid,
            iron: recipe.now.iron,
            sludge: recipe.now.sludge,
        });
        if let Some(t) = note.temperature {
            self.can_be_so_hot(reader, t, recipe.band.most);
        }
        if let Err(why) = Chemistry::new(&recipe.chemistry, &reads) {
            reader.add(
                Finding::new(Code::Bath, note.at, format!("no bath can read so: {why}"))
                    .help("take the readings again, or leave out the one that you doubt"),
            );
        }
    }

    /// As at the start of a day: it neither freezes nor boils, and above its band is told.
    fn can_be_so_hot(&self, reader: &mut Reader<'_>, read: Spanned<Temperature>, most: Temperature) {
        let boils = boiling_point(reader.shop.air.pressure);
        let degrees = |t: Temperature| format!("{} °C", (t.in_celsius() * 10.0).round() / 10.0);
        if read.value.in_celsius() < 0.0 || read.value >= boils {
            let message = format!("a bath cannot have {}", degrees(read.value));
            let help = format!("it freezes at 0 °C and boils at {} here", degrees(boils));
            reader.add(Finding::new(Code::Bath, read.at, message).help(help));
        } else if read.value > most {
            let message = format!("the bath reads {}, above its band", degrees(read.value));
            reader.add(
                Finding::warning(Code::Bath, read.at, message)
                    .label("too hot")
                    .help(format!(
                        "its band ends at {}: let it cool before work or concentrate goes in{}",
                        degrees(most),
                        match read.value > HIGHEST {
                            true => format!(
                                "; it is taken as {}, the hottest that is worked out",
                                degrees(HIGHEST)
                            ),
                            false => String::new(),
                        }
                    )),
            );
        }
    }
}
