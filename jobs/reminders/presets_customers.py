"""What are customers told by themselves on a new installation? House settings."""

from typing import Any

CARE = (
    "Do not use the door if the glass is chipped; tempered glass can break without warning when "
    "its edge is damaged."
)
CARE_ES = (
    "No use la puerta si el vidrio está astillado; el vidrio templado puede romperse sin aviso "
    "cuando su borde está dañado."
)
HELLO, HOLA = "Dear {customer},\n\n", "Estimado/a {customer}:\n\n"
BYE, ADIOS = "\n\n{firm}, {phone}\n", "\n\n{firm}, {phone}\n"

TO_CUSTOMERS: list[dict[str, Any]] = [
    {
        "slug": "follow_up",
        "name": "Follow-up after the install",
        "hears": ["booking.made", "booking.moved", "booking.confirmed"],
        "visits": ["install"],
        "counts_from": "visit_end",
        "offset_days": 14,
        "unless": [
            "booking.cancelled",
            "booking.no_show",
            "job.cancelled",
            "job.followed_up",
            "job.closed",
        ],
        "same": "job",
        "late_after_hours": 72,
        "subject": "How is your new door? ({job})",
        "text": HELLO + "{days} days ago we hung the glass for your job {job} ({summary}).\n"
        "Please look: does the door close by itself where it should, is the floor outside dry, are "
        "all seals in place? " + CARE + " Answer this mail or call us if anything is amiss." + BYE,
        "subject_es": "¿Cómo está su nueva puerta? ({job})",
        "text_es": HOLA + "Hace {days} días colgamos el vidrio de su trabajo {job} ({summary}).\n"
        "Mire, por favor: ¿cierra la puerta donde debe, está seco el suelo por fuera, están todas "
        "las juntas en su sitio? " + CARE_ES + " Conteste a este correo o llámenos si algo falla."
        "" + ADIOS,
    },
    {
        "slug": "day_before",
        "name": "The day before a visit, to the customer",
        "hears": ["booking.made", "booking.moved", "booking.confirmed"],
        "counts_from": "visit_start",
        "offset_days": -1,
        "at": "10:00",
        "unless": ["booking.cancelled", "booking.no_show"],
        "sense": "visit_start",
        "subject": "{visit}: {when} ({job})",
        "text": HELLO + "we come for your {visit} on {when}, local time, at {site}. Please keep "
        "the way from the door to the bathroom free. If the day does not suit, call {phone}." + BYE,
        "subject_es": "{visit}: {when} ({job})",
        "text_es": HOLA + "venimos para su {visit} el {when}, hora local, a {site}. Deje libre el "
        "paso de la puerta al baño, por favor. Si el día no le conviene, llame al {phone}." + ADIOS,
    },
    {
        "slug": "cure_told",
        "name": "The first shower, told when the install is finished",
        "hears": ["install.finished", "install.cured_at_known"],
        "counts_from": "notice",
        "unless": ["job.cancelled"],
        "same": "job",
        "sense": "always",
        "late_after_hours": 48,
        "subject": "Your new glass: when the first shower may be ({job})",
        "text": HELLO + "the glass for {job} ({opening}) is in. {first_shower} Until then keep the "
        "sealant dry and do not lean on the glass. " + CARE + BYE,
        "subject_es": "Su nuevo vidrio: cuándo puede ducharse ({job})",
        "text_es": HOLA
        + "el vidrio de {job} ({opening}) está puesto. {first_shower} Hasta entonces "
        "mantenga seco el sellador y no se apoye en el vidrio. " + CARE_ES + ADIOS,
    },
    {
        "slug": "cure_over",
        "name": "The cure is over",
        "hears": ["install.finished", "install.cured_at_known"],
        "counts_from": "cure_end",
        "unless": ["job.cancelled"],
        "same": "job",
        "late_after_hours": 72,
        "subject": "The shower may be used ({job})",
        "text": HELLO
        + "the time that the sealant of {job} ({opening}) needed is over; you may shower. If the "
        "floor outside gets wet, stop and call {phone}." + BYE,
        "subject_es": "Ya puede ducharse ({job})",
        "text_es": HOLA
        + "el tiempo que necesitaba el sellador de {job} ({opening}) ha pasado; puede ducharse. "
        "Si el suelo de fuera se moja, pare y llame al {phone}." + ADIOS,
    },
]
