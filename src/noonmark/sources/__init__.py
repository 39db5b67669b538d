"""What lives inside: heat and moisture of people and appliances by hour."""
